// Nothing here is needed: every form posts plainly. With it, what is tapped is kept on
// the phone until the shop has answered, and a second tap sends nothing.

import "shop/typed";
import "shop/outbox";
import { isoHere, newId } from "shop/tap";

// The forms that the outbox leaves alone: those that ask and wait for an answer.
addEventListener("submit", (event) => {
  const form = event.target;
  if (form.getAttribute("method")?.toLowerCase() !== "post") return;
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

// On a secure address the shop opens without network as well.
const worker = isSecureContext ? navigator.serviceWorker : null;
if (worker && document.body.dataset.person) {
  worker.register("/worker.js").then(() => worker.ready).then(
    (there) => there.active.postMessage("take in the day"),
    () => {},
  );
}
addEventListener("submit", (event) => {
  // Whoever signs out leaves no copies behind; what was tapped stays until it is in.
  if (event.target.getAttribute("action") === "/sign-out/") worker?.controller?.postMessage("forget");
});
