// Keeps every tap on the phone until the shop has answered it, and sends it in order.
// Works on plain http: no service worker, no locks, no randomUUID.

import { all, asBlob, drop, keep } from "shop/store";
import { shrunk } from "shop/picture";
import { isoHere, newId } from "shop/tap";

const PATIENCE = 20_000;
const PATIENCE_PHOTO = 120_000;
const SLOW = 1_500;
let count = 0;
let taps = 0;
let pause = 5_000;

const me = () => document.body.dataset.person || "";
const cookie = () => /(?:^|; )fabshop_csrf=([^;]*)/.exec(document.cookie)?.[1] ?? "";
const title = () => document.title.split(" · ")[0];
const line = () => document.getElementById("kept");

// ---- the tap

const said = (button) => (button?.ariaLabel || button?.textContent || "").trim().replace(/\s+/g, " ");

const entriesOf = async (form, button) => {
  const data = new FormData(form);
  if (button?.name) data.append(button.name, button.value);
  const fields = [];
  const files = [];
  for (const [name, value] of data) {
    if (typeof value === "string") fields.push([name, value]);
    else if (value.size) files.push([name, await shrunk(value), value.name]);
  }
  const id = form.elements.client_id.dataset.kept || newId();
  form.elements.client_id.dataset.kept = id;
  const base = {
    at: isoHere(),
    person: me(),
    title: [said(button), title()].filter(Boolean).join(" · "),
    n: Date.now() + ++count / 1000,
  };
  const path = new URL(
    button?.getAttribute("formaction") || form.getAttribute("action") || location.href,
    location.href,
  );
  const words = { ...base, id, path: path.pathname + path.search, fields, files: [], is_photo: 0 };
  const after = form.dataset.photosAfter;
  if (!files.length) return [words];
  if (after === undefined) return [{ ...words, files, is_photo: 1 }];
  // The words go first and alone; each photo follows with an id of its own.
  words.fields.push(["photo_follows", String(files.length)]);
  const photos = files.map((file) => ({
    ...base,
    id: newId(),
    n: Date.now() + ++count / 1000,
    title: `Photo · ${title()}`,
    path: after.replace("ID", id),
    fields: [],
    files: [file],
    is_photo: 1,
  }));
  return [words, ...photos];
};

// ---- the sending

const freshToken = () => fetch("/kept/", { credentials: "same-origin" }).catch(() => null);

const post = async (entry) => {
  const body = new FormData();
  for (const [name, value] of entry.fields) {
    if (!["csrfmiddlewaretoken", "client_id", "at", "sent_at"].includes(name)) body.append(name, value);
  }
  body.append("client_id", entry.id);
  body.append("at", entry.at);
  body.append("sent_at", isoHere());
  for (const [name, file, called] of entry.files) body.append(name, await asBlob(file), called || "photo");
  const stop = new AbortController();
  const clock = setTimeout(() => stop.abort(), entry.is_photo ? PATIENCE_PHOTO : PATIENCE);
  try {
    return await fetch(entry.path, {
      method: "POST",
      body,
      signal: stop.signal,
      credentials: "same-origin",
      redirect: "manual",
      headers: { "X-Kept": entry.id, "X-CSRFToken": cookie(), Accept: "text/html" },
    });
  } catch {
    return null;
  } finally {
    clearTimeout(clock);
  }
};

// An answer, or null: the shop has not said yes or no, so the entry stays.
const answerTo = async (entry) => {
  let answer = await post(entry);
  if (answer?.status === 403 && answer.headers.get("X-Form") === "stale") {
    await freshToken();
    answer = await post(entry);
  }
  if (!answer) return { waits: "the shop cannot be reached" };
  if (answer.status === 401) return { waits: "sign in, then it goes" };
  if (answer.headers.get("X-Form") === "stale" || !answer.headers.get("X-Kept")) {
    // Not the shop's own answer: a proxy, a captive page, a fault of the server.
    return { waits: answer.status === 503 ? "the shop is full or busy" : "the shop did not answer rightly" };
  }
  const text = await answer.text();
  const to = answer.headers.get("X-To");
  return to ? { to } : { html: text, status: answer.status, draft: answer.headers.get("X-Draft") };
};

let running = Promise.resolve();

// Sends all that is kept, oldest first; says what became of `wanted`. Two pages may send
// the same at once: the shop answers the second with the first.
const pump = (wanted) => {
  const turn = running.then(async () => {
    let mine = null;
    for (const entry of await all()) {
      if (entry.person && entry.person !== me()) continue;
      if (wanted && entry.is_photo && entry.id !== wanted) continue;
      const answer = await answerTo(entry);
      if (answer.waits) {
        pause = Math.min(60_000, pause * 2);
        mine = answer;
        break;
      }
      pause = 5_000;
      await drop(entry.id);
      if (entry.id === wanted) mine = answer;
      else if (answer.html && answer.status >= 400) tell(entry, answer);
    }
    await show();
    return mine;
  });
  running = turn.catch(() => null);
  return turn;
};

// ---- what the page shows

const told = (text, href) => {
  const place = document.querySelector("main");
  if (!place) return;
  const box = document.createElement("div");
  box.className = "told";
  box.setAttribute("role", "status");
  const p = box.appendChild(document.createElement("p"));
  p.textContent = text;
  if (href) {
    const a = p.appendChild(document.createElement("a"));
    a.href = href;
    a.textContent = " Look at it";
  }
  place.prepend(box);
};

const tell = (entry, answer) =>
  told(
    `“${entry.title}” did not fit any more. It is kept as a draft.`,
    answer.draft ? `/drafts/${answer.draft}/` : "/drafts/",
  );

const stopBar = (entries) => {
  document.getElementById("kept-stop")?.remove();
  const code = (path) => /^\/tasks\/([\w-]+)\/(start|stop|done|part-done|stuck)\/$/.exec(path);
  let started = null;
  for (const entry of entries) {
    const [, task, verb] = code(entry.path) || [];
    if (verb) started = verb === "start" ? { task, at: entry.at } : null;
  }
  const thumb = document.querySelector(".thumb");
  if (!started || !thumb) return;
  const form = document.createElement("form");
  form.id = "kept-stop";
  form.method = "post";
  form.action = `/tasks/${started.task}/stop/`;
  for (const name of ["client_id", "at", "sent_at"]) {
    const input = form.appendChild(document.createElement("input"));
    input.type = "hidden";
    input.name = name;
  }
  const button = form.appendChild(document.createElement("button"));
  button.className = "big";
  button.textContent = `Stop ${started.task}, begun ${started.at.slice(11, 16)}`;
  thumb.prepend(form);
};

export const show = async () => {
  const entries = await all().catch(() => []);
  const place = line();
  if (place) {
    place.hidden = false;
    place.textContent = entries.length ? `${entries.length} kept on this phone` : "all in";
    place.dataset.count = String(entries.length);
  }
  stopBar(entries);
  const list = document.getElementById("kept-list");
  if (!list) return;
  list.replaceChildren(
    ...entries.map((entry) => {
      const row = document.createElement("li");
      const what = row.appendChild(document.createElement("p"));
      what.className = "what";
      what.textContent = entry.title;
      const why = row.appendChild(document.createElement("p"));
      why.className = "why";
      const typed = entry.fields
        .filter(([name, value]) => value && !/^(csrfmiddlewaretoken|client_id|at|sent_at|then)$/.test(name))
        .map(([, value]) => value);
      const whose = entry.person && entry.person !== me() ? "waits for the one who tapped it to sign in" : "";
      why.textContent = [entry.at.replace("T", " ").slice(0, 16), ...typed, whose].filter(Boolean).join(" · ");
      return row;
    }),
  );
  document.getElementById("kept-none").hidden = entries.length > 0;
};

const turnTo = (answer, path) => {
  if (answer.to) {
    const there = new URL(answer.to, location.href);
    const isHere = there.pathname + there.search === location.pathname + location.search;
    location.assign(there);
    if (isHere && there.hash) location.reload();
    return;
  }
  const page = new DOMParser().parseFromString(answer.html, "text/html");
  // A form that goes to its own page goes there from the page it is shown on, too.
  for (const form of page.forms) if (!form.getAttribute("action")) form.setAttribute("action", path);
  document.title = page.title;
  document.body.replaceWith(page.body);
  window.htmx?.process(document.body);
  (document.querySelector("[role=alert]") || document.getElementById("main"))?.scrollIntoView();
  show();
};

addEventListener(
  "submit",
  async (event) => {
    const form = event.target;
    const isKept = form.elements.client_id && form.dataset.straight === undefined;
    if (form.getAttribute("method")?.toLowerCase() !== "post" || !isKept) return;
    event.preventDefault();
    event.stopImmediatePropagation();
    if (form.dataset.sent) return;
    form.dataset.sent = "yes";
    const button = event.submitter;
    let sentTo = "";
    try {
      const entries = await entriesOf(form, button);
      sentTo = entries[0].path;
      for (const entry of entries) await keep(entry);
    } catch {
      // Nothing can be kept on this phone: sent plainly, as without a script.
      form.dataset.straight = "";
      delete form.dataset.sent;
      return form.requestSubmit(button);
    }
    const id = form.elements.client_id.dataset.kept;
    const tap = ++taps;
    delete form.elements.client_id.dataset.kept;
    // What is typed from here on is something else.
    form.reset();
    const release = (why) => {
      delete form.dataset.sent;
      told(`Kept on this phone: ${said(button) || "what you wrote"} (${why}).`);
      // A lone key says what became of its tap; a second tap would be another.
      if (button && !form.querySelector("input:not([type=hidden]), textarea, select")) button.disabled = true;
    };
    const slow = setTimeout(release, SLOW, "on its way");
    const answer = await pump(id);
    clearTimeout(slow);
    if (!answer || answer.waits) {
      if (form.dataset.sent) release(`it goes in by itself: ${answer?.waits || "it waits its turn"}`);
    } else if (tap === taps) {
      delete form.dataset.sent;
      turnTo(answer, sentTo);
    } else if (answer.html && answer.status >= 400) tell({ title: said(button) }, answer);
  },
  true,
);

const again = () => {
  if (document.visibilityState === "visible" && me()) pump();
};
addEventListener("online", again);
addEventListener("visibilitychange", again);
addEventListener("pageshow", again);
addEventListener("click", (event) => event.target.closest("#send-kept") && pump());
const later = () => setTimeout(async () => {
  if ((await all().catch(() => [])).length) again();
  later();
}, pause);
later();
show();
