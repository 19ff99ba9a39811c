// Runs before the first paint: theme, language and direction, so that nothing flashes.
// Plain old script, so that it also runs where the page itself cannot.
(function () {
  function chosen(key) {
    try {
      // Values are stored as JSON; a bare word is taken as well.
      return String(localStorage.getItem(key) || "").replace(/^"|"$/g, "");
    } catch (blocked) {
      return "";
    }
  }
  var page = document.documentElement;
  var theme = chosen("two-marks/theme");
  if (theme === "light" || theme === "dark" || theme === "sun") {
    page.setAttribute("data-theme", theme);
  }

  // The files of the languages, by tag, as the build wrote them into the page.
  var files = { en: "" };
  var line = document.querySelector('meta[name="languages"]').content;
  line.replace(/(\S+)=(\S+)/g, function (all, tag, file) {
    files[tag] = file;
  });
  // The one chosen here, or else the first of the browser's own that there is.
  var wanted = [chosen("two-marks/language")];
  wanted = wanted.concat(navigator.languages || navigator.language || []);
  for (var at = 0; at < wanted.length; at += 1) {
    var tag = [wanted[at], wanted[at].split("-")[0]].filter(function (name) {
      return Object.prototype.hasOwnProperty.call(files, name);
    })[0];
    if (!tag) continue;
    page.setAttribute("lang", tag);
    if (tag === chosen("two-marks/language") && chosen("two-marks/direction") === "rtl") {
      page.setAttribute("dir", "rtl");
    }
    if (files[tag]) {
      // On its way while the program loads, which then finds it here.
      var link = document.createElement("link");
      link.rel = "preload";
      link.as = "fetch";
      link.crossOrigin = "anonymous";
      link.href = files[tag];
      document.head.appendChild(link);
    }
    break;
  }
})();
