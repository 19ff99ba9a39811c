// When the page breaks: says so, offers a reload and a raw copy of what is saved.
// Plain old script that needs neither modules nor WebAssembly. The English words stand in index.html;
// those of another language are a small file of their own, fetched by its readers alone.
(function () {
  var RECORDS = "two-marks/r/";
  var page = document.documentElement;
  var parts = document.querySelectorAll("[data-say]");
  var papers = document.querySelectorAll('a[href^="paper"]');
  var english = {};
  var spoken = "en";

  function each(list, work) {
    Array.prototype.forEach.call(list, work);
  }
  each(parts, function (part) {
    english[part.getAttribute("data-say")] = part.textContent;
  });

  function say(words) {
    each(parts, function (part) {
      var name = part.getAttribute("data-say");
      part.textContent = words[name] || english[name];
    });
  }

  // The words of the shell lie beside the words of the program, under a name with the same hash.
  function fileOf(tag) {
    var line = document.querySelector('meta[name="languages"]').content.split(" ");
    var own = line.filter(function (pair) {
      return pair.indexOf(tag + "=words-") === 0;
    })[0];
    return own && own.slice(tag.length + 1).replace(/^words-(.*)\.txt$/, "shell-$1.json");
  }

  // What does not arrive is said in English.
  function speak() {
    var tag = page.lang;
    if (tag === spoken) return;
    spoken = tag;
    var file = fileOf(tag);
    each(papers, function (link) {
      link.href = file ? "paper-" + tag + ".html" : "paper.html";
    });
    if (!file) {
      say(english);
      return;
    }
    var asked = new XMLHttpRequest();
    asked.open("GET", file);
    asked.onload = function () {
      if (asked.status !== 200 || page.lang !== tag) return;
      try {
        say(JSON.parse(asked.responseText));
      } catch (torn) {
        say(english);
      }
    };
    asked.send();
  }
  speak();
  // The program says on the document which language it has come to speak.
  if (window.MutationObserver) {
    new MutationObserver(speak).observe(page, { attributes: true, attributeFilter: ["lang"] });
  }

  function byId(id) {
    return document.getElementById(id);
  }

  function show(id) {
    var panel = byId(id);
    if (!panel || !panel.hidden) return;
    panel.hidden = false;
    var title = byId(id + "-title");
    if (title) title.focus();
  }

  // The backup form of the page itself. Records are copied as they are stored; what is no JSON
  // goes along as text, so that nothing is left behind.
  function backup() {
    var records = [];
    var unreadable = [];
    for (var i = 0; i < localStorage.length; i += 1) {
      var key = localStorage.key(i);
      if (key.indexOf(RECORDS) !== 0) continue;
      var text = localStorage.getItem(key);
      try {
        JSON.parse(text);
        records.push(text);
      } catch (broken) {
        unreadable.push(JSON.stringify({ key: key, text: text }));
      }
    }
    var rest = unreadable.length ? ',"unreadable":[' + unreadable.join(",") + "]" : "";
    return {
      count: records.length + unreadable.length,
      text: '{"kind":"two-marks backup","version":1,"records":[' + records.join(",") + "]" + rest + "}",
    };
  }

  function save() {
    var note = byId("crash-saved");
    try {
      var copy = backup();
      var link = document.createElement("a");
      link.href = URL.createObjectURL(new Blob([copy.text], { type: "application/json" }));
      link.download = "two-marks-raw-copy.json";
      document.body.appendChild(link);
      link.click();
      document.body.removeChild(link);
      note.textContent = byId("crash-copied").textContent.replace("{count}", copy.count);
    } catch (blocked) {
      note.textContent = byId("crash-shut").textContent;
    }
  }

  document.addEventListener("click", function (event) {
    var what = event.target.getAttribute && event.target.getAttribute("data-do");
    if (what === "reload") location.reload();
    if (what === "save") save();
  });

  function broke() {
    show("crash");
  }
  window.addEventListener("two-marks:panic", broke);
  window.addEventListener("unhandledrejection", broke);
  window.addEventListener("error", function (event) {
    // Without a file of ours it comes from the browser itself or from an extension.
    if (event.filename && event.filename.indexOf(location.origin) === 0) broke();
  });

  var able = "noModule" in document.createElement("script") && typeof WebAssembly === "object";
  function noStart() {
    show(able ? "broken-load" : "no-start");
  }
  window.addEventListener("two-marks:no-start", noStart);
  // What happened before this script came stands on the document.
  if (!able || page.hasAttribute("data-no-start")) noStart();
  if (page.hasAttribute("data-panic")) broke();
})();
