// The keys beside a counter count on the phone itself; without this each posts.
"use strict";

addEventListener("click", (event) => {
  const key = event.target.closest("button[name=key]");
  if (!key) return;
  const [field, number, press] = key.value.split(":");
  const counter = key.form.elements[`${field}-${number}`];
  if (!counter) return;
  event.preventDefault();
  const seen = Number(counter.value.replace(",", ".")) || 0;
  const next = press.startsWith("all") ? Number(key.dataset.all) + Number(press.slice(3)) : seen + Number(press);
  counter.value = String(Math.max(0, Math.round(next * 1000) / 1000));
});

// Why a thing is wrong says that one is; more are counted by their key.
addEventListener("change", (event) => {
  const [, number] = /^why-(\d+)$/.exec(event.target.name) || [];
  const counter = number && event.target.form.elements[`wrong-${number}`];
  if (counter && !Number(counter.value.replace(",", "."))) counter.value = "1";
});
