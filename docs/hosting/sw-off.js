// The way back from a bad offline worker: publish this file under the name sw.js.
//
// Browsers look for a changed sw.js themselves, past the worker that is running, whenever the page
// is opened (and at least once a day), so this works even when that worker is broken. It takes over
// at once, throws the kept files away and removes itself. What people have stored is not touched.

self.addEventListener("install", () => self.skipWaiting());

self.addEventListener("activate", (event) => {
  const leave = async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith(`two-marks ${self.registration.scope} `)) await caches.delete(name);
    }
    await self.registration.unregister();
  };
  event.waitUntil(leave());
});
