// When the page breaks: says so, offers a reload and a raw copy of what is saved.
// Plain old script that needs neither modules nor WebAssembly; the words stand in index.html.
(function () {
  var RECORDS = "two-marks/r/";

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
      note.textContent = "Records in the copy: " + copy.count + ".";
    } catch (blocked) {
      note.textContent = "This browser does not let the page read its storage.";
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
  window.addEventListener("two-marks:no-start", function () {
    show(able ? "broken-load" : "no-start");
  });
  if (!able) show("no-start");
})();
