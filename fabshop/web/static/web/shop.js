// Nothing here is needed: every form posts plainly. With it, a form carries an id and
// the time of the tap as the phone made them, and a second tap sends nothing.
"use strict";

const isoHere = () => {
  const now = new Date();
  const ahead = -now.getTimezoneOffset();
  const two = (n) => String(Math.trunc(Math.abs(n))).padStart(2, "0");
  const here = new Date(now.getTime() + ahead * 60000).toISOString().slice(0, 19);
  return `${here}${ahead < 0 ? "-" : "+"}${two(ahead / 60)}:${two(ahead % 60)}`;
};

// crypto.randomUUID does not exist on a plain http address of the house network.
const newId = () => {
  const b = crypto.getRandomValues(new Uint8Array(16));
  b[6] = (b[6] & 15) | 64;
  b[8] = (b[8] & 63) | 128;
  const hex = Array.from(b, (x) => x.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
};

addEventListener("submit", (event) => {
  const form = event.target;
  if (form.method !== "post") return;
  if (form.dataset.sent) {
    event.preventDefault();
    event.stopImmediatePropagation();
    return;
  }
  form.dataset.sent = "yes";
  const { client_id: id, at, sent_at: sentAt } = form.elements;
  if (id && !id.dataset.kept) id.value = newId();
  if (at && !at.value) at.value = isoHere();
  if (sentAt) sentAt.value = isoHere();
  // Without an answer the same tap may be sent again, under the same id.
  setTimeout(() => {
    delete form.dataset.sent;
    if (id) id.dataset.kept = "yes";
  }, 8000);
}, true);

// A new shop is most likely in the zone of the phone that makes it.
const zone = document.querySelector("select[data-guess-zone]");
if (zone && zone.value === "UTC") {
  const here = Intl.DateTimeFormat().resolvedOptions().timeZone;
  if ([...zone.options].some((option) => option.value === here)) zone.value = here;
}

const ready = () => {
  for (const form of document.forms) {
    delete form.dataset.sent;
    for (const name of ["at", "sent_at"]) {
      if (form.elements[name]) form.elements[name].value = "";
    }
    if (form.elements.client_id) delete form.elements.client_id.dataset.kept;
  }
};
// Back to a page that was left: what is sent from it now is a new tap.
addEventListener("pageshow", (event) => event.persisted && ready());
addEventListener("htmx:afterRequest", ready);
