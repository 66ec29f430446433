// Keeps half-written text on the phone every two seconds, and gives it back.

const key = (field) => `fabshop-typed ${location.pathname} ${field.name}`;
const fields = () => document.querySelectorAll("textarea[name]:not([hidden])");

const tried = (act) => {
  try {
    return act();
  } catch {
    return null;
  }
};

for (const field of fields()) {
  const text = tried(() => localStorage.getItem(key(field)));
  if (text && !field.value) field.value = text;
}

setInterval(() => {
  for (const field of fields()) {
    if (field.value) tried(() => localStorage.setItem(key(field), field.value));
    else tried(() => localStorage.removeItem(key(field)));
  }
}, 2000);

// What was sent is in the outbox from here on.
addEventListener("submit", (event) => {
  for (const field of event.target.querySelectorAll("textarea[name]")) {
    tried(() => localStorage.removeItem(key(field)));
  }
}, true);
