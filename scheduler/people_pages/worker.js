// Keeps one person's page as it was last read, and shows it, marked as such, when there is no connection.
// Its scope is that page; it answers nothing else.
"use strict";

const PAGE = self.registration.scope;
const PATIENCE_MS = 5000; // for an answer, when there is something kept to show instead
const NOT_REACHED = new Set([502, 503, 504]); // a gateway answers, but not the farm behind it
const GONE = new Set([404, 410]);

self.addEventListener("install", (event) => {
  self.skipWaiting();
  // The page that brought this worker was read without it.
  event.waitUntil(read(new Request(PAGE)).catch(() => {}));
});

self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

self.addEventListener("fetch", (event) => {
  const asked = event.request;
  if (asked.method === "GET" && asked.mode === "navigate" && asked.url.split("#")[0] === PAGE) {
    event.respondWith(answer(asked));
  }
});

// The network first, always; what is kept only where there is no connection.
async function answer(asked) {
  const kept = await lastRead();
  if (!kept) {
    return read(asked);
  }
  try {
    const got = await read(asked, AbortSignal.timeout(PATIENCE_MS));
    return NOT_REACHED.has(got.status) ? kept : got;
  } catch {
    return kept;
  }
}

// Asks the farm. A page is kept; one that is there no more is forgotten, and this worker with it.
async function read(asked, signal) {
  const got = await fetch(asked, { cache: "no-store", signal });
  if (GONE.has(got.status)) {
    await caches.delete(PAGE);
    await self.registration.unregister();
    return got;
  }
  const text = await got.text();
  const whole = () => new Response(text, { status: got.status, headers: got.headers });
  if (got.status === 200) {
    await (await caches.open(PAGE)).put(PAGE, whole());
  }
  return whole();
}

// The page as it was last read, saying so: the style sheet shows the words for that, which stand in each page.
// Its script would have to be fetched.
async function lastRead() {
  const found = await caches.match(PAGE, { cacheName: PAGE });
  if (!found) {
    return undefined;
  }
  const text = await found.text();
  const marked = text.replace("<body>", '<body class="kept">').replace(/<script [^>]*><\/script>/, "");
  return new Response(marked, { headers: found.headers });
}
