// On a secure address the shop opens without network: the day's pages from their last copy.
const RELEASE = "{{ release }}";
const PAGES = "pages";
const PARTS = `parts ${RELEASE}`;
const STATIC = {{ static|safe }};
const PATIENCE = 4000;
const FRESH = 5 * 60 * 1000;
let taken = 0;

addEventListener("install", (event) => {
  event.waitUntil(
    caches.open(PARTS).then((cache) => cache.addAll(STATIC)).then(() => skipWaiting()),
  );
});

// A new release replaces the old one; what is kept on the phone lies elsewhere.
addEventListener("activate", (event) => {
  event.waitUntil(
    caches.keys()
      .then((names) => Promise.all(names.filter((n) => n.startsWith("parts ") && n !== PARTS).map((n) => caches.delete(n))))
      .then(() => clients.claim()),
  );
});

const stamped = async (copy) => {
  const at = copy.headers.get("X-Copied") || "";
  const page = await copy.text();
  const when = new Date(Number(at)).toLocaleString("en-GB", { weekday: "short", hour: "2-digit", minute: "2-digit" });
  const said = `<p class="told" role="status">No network: this page is as of ${when}. What you tap is kept on this phone.</p>`;
  return new Response(page.replace(/(<main[^>]*>)/, `$1${said}`), {
    headers: { "Content-Type": "text/html; charset=utf-8" },
  });
};

const copied = async (request, answer) => {
  const page = await answer.clone().text();
  const headers = { "Content-Type": "text/html; charset=utf-8", "X-Copied": String(Date.now()) };
  const cache = await caches.open(PAGES);
  await cache.put(new URL(request.url).pathname, new Response(page, { headers }));
};

const fromShop = (request) => {
  const stop = new AbortController();
  const clock = setTimeout(() => stop.abort(), PATIENCE);
  return fetch(request, { signal: stop.signal }).finally(() => clearTimeout(clock));
};

const page = async (event) => {
  const path = new URL(event.request.url).pathname;
  try {
    const answer = await fromShop(event.request);
    if (answer.ok && !answer.redirected && /text\/html/.test(answer.headers.get("Content-Type") || "")) {
      event.waitUntil(copied(event.request, answer));
    }
    if (answer.status < 500) return answer;
    throw new Error("the shop fell over");
  } catch {
    const copy = await (await caches.open(PAGES)).match(path);
    if (copy) return stamped(copy);
    const kept = await (await caches.open(PAGES)).match("/kept/");
    return kept ? stamped(kept) : Response.error();
  }
};

addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (url.origin !== location.origin || request.method !== "GET") return;
  if (url.pathname.startsWith("/static/")) {
    event.respondWith(caches.match(request).then((found) => found || fetch(request)));
  } else if (request.mode === "navigate" && !/^\/(api|office|paper|photos)\//.test(url.pathname)) {
    event.respondWith(page(event));
  }
});

// Once in a while, while there is a network, the day's pages are fetched beforehand.
addEventListener("message", (event) => {
  if (event.data === "forget") {
    event.waitUntil(caches.delete(PAGES));
    return;
  }
  if (Date.now() - taken < FRESH) return;
  taken = Date.now();
  event.waitUntil(
    (async () => {
      const answer = await fetch("/offline/", { credentials: "same-origin" });
      if (!answer.ok) return;
      for (const path of (await answer.json()).pages) {
        const request = new Request(path, { credentials: "same-origin" });
        const there = await fetch(request).catch(() => null);
        if (there?.ok && !there.redirected) await copied(request, there);
      }
    })().catch(() => {}),
  );
});
