// Runs before the first paint: theme and language as last chosen, so that nothing flashes.
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
  var language = chosen("two-marks/language");
  if (/^[a-z]{2,3}(-[A-Za-z0-9]{2,8})*$/.test(language)) {
    page.setAttribute("lang", language);
  }
})();
