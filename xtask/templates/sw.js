// Keeps the page for use without a network. Written by the build: do not edit this copy.
//
// It holds the files of one version, each checked against its hash, and answers from them first.
// It never holds anything that a person entered. A newer version is fetched in full and then waits
// until the page says that no test is under way.

const VERSION = "@VERSION@";
const FILES = @FILES@;

// Several pages may share an origin: our copies carry our folder in their name.
const SCOPE = self.registration.scope;
const OURS = `two-marks ${SCOPE} `;
const CACHE = OURS + VERSION;

// The first try may take what the page's own start has just loaded; the hash tells whether that is
// the right file, and if not, the second try goes past every cache on the way.
async function load(path, integrity) {
  const url = new URL(path, SCOPE);
  let response;
  try {
    response = await fetch(new Request(url, { integrity }));
  } catch {
    response = await fetch(new Request(url, { integrity, cache: "reload" }));
  }
  if (!response.ok) throw new Error(`${path}: ${response.status}`);
  // A redirected answer may not serve a navigation later.
  if (response.redirected) response = new Response(await response.blob(), { headers: response.headers });
  const cache = await caches.open(CACHE);
  await cache.put(url, response);
}

self.addEventListener("install", (event) => {
  event.waitUntil(Promise.all(FILES.map(([path, integrity]) => load(path, integrity))));
});

self.addEventListener("activate", (event) => {
  const clean = async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith(OURS) && name !== CACHE) await caches.delete(name);
    }
    // The page of the first visit fetches parts of itself later, perhaps when there is no signal.
    await self.clients.claim();
  };
  event.waitUntil(clean());
});

self.addEventListener("message", (event) => {
  if (event.data && event.data.kind === "apply-update") self.skipWaiting();
});

async function answer(request) {
  const cache = await caches.open(CACHE);
  const url = new URL(request.url);
  url.search = "";
  url.hash = "";
  const kept = await cache.match(url.href, { ignoreVary: true });
  if (kept) return kept;
  if (request.mode === "navigate") {
    const page = await cache.match(SCOPE, { ignoreVary: true });
    if (page) return page;
  }
  // Only when the browser has thrown away part of the copy.
  return fetch(request);
}

self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method === "GET" && request.url.startsWith(SCOPE)) {
    event.respondWith(answer(request));
  }
});
