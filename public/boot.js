// Starts the page and, after that, the worker that keeps it for use offline.
//
// The names of the two parts carry their hashes, so they are read from the preload links.

const head = document.head;

function start() {
  const link = head.querySelector('link[rel="preload"][href$=".wasm"]');
  const wasm = link.href;
  const glue = wasm.replace(/_bg\.wasm$/, ".js");
  // The preload itself is not checked against its hash by every browser; this is.
  const bytes = fetch(wasm, { integrity: link.integrity, credentials: "same-origin" });
  // A line that breaks here is told once, by the import that waits for it, and is no crash.
  bytes.catch(() => {});
  return import(glue).then((part) => part.default({ module_or_path: bytes }));
}

// A browser that can put the page on the home screen offers it by itself. The offer is kept until the
// person asks for it.
window.addEventListener("beforeinstallprompt", (offer) => {
  offer.preventDefault();
  window.homeScreenOffer = offer;
});

function tell(name) {
  // Both an event and a mark: whoever starts to listen late can still see it.
  document.documentElement.setAttribute(`data-${name}`, "yes");
  window.dispatchEvent(new CustomEvent(`two-marks:${name}`));
}

function watch(registration) {
  const follow = (worker) => {
    const look = () => {
      if (worker.state === "activated") tell("offline-ready");
      // Waiting beside an older one: a new version, used only when the page asks for it.
      if (worker.state === "installed" && registration.active) tell("update-ready");
    };
    worker.addEventListener("statechange", look);
    look();
  };
  for (const worker of [registration.active, registration.waiting, registration.installing]) {
    if (worker) follow(worker);
  }
  registration.addEventListener("updatefound", () => follow(registration.installing));
  // The page sends this between tests; it loads again once the new version has taken over.
  window.addEventListener("two-marks:apply-update", () => {
    if (!registration.waiting) return;
    navigator.serviceWorker.addEventListener("controllerchange", () => location.reload());
    registration.waiting.postMessage({ kind: "apply-update" });
  });
}

function keepOffline() {
  const built = head.querySelector('meta[name="offline-worker"]').content === "yes";
  if (!built || !("serviceWorker" in navigator)) return;
  const register = navigator.serviceWorker.register("./sw.js", { updateViaCache: "none" });
  // Blocked by the browser: the page works all the same, only not offline.
  register.then(watch).catch(() => {});
}

start().then(
  () => {
    // Only now, so that the first start does not wait for the copy to be made.
    if (document.readyState === "complete") keepOffline();
    else window.addEventListener("load", keepOffline);
  },
  (error) => {
    // crash.js tells an old browser from a broken line. It may come later than this.
    document.documentElement.setAttribute("data-no-start", "yes");
    window.dispatchEvent(new CustomEvent("two-marks:no-start", { detail: String(error) }));
  },
);
