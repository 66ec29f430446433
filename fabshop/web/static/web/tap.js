// What a tap carries: an id made on the phone, and the phone's own time with its offset.

export const isoHere = () => {
  const now = new Date();
  const ahead = -now.getTimezoneOffset();
  const two = (n) => String(Math.trunc(Math.abs(n))).padStart(2, "0");
  const here = new Date(now.getTime() + ahead * 60000).toISOString().slice(0, 23);
  return `${here}${ahead < 0 ? "-" : "+"}${two(ahead / 60)}:${two(ahead % 60)}`;
};

// crypto.randomUUID does not exist on a plain http address of the house network.
export const newId = () => {
  const b = crypto.getRandomValues(new Uint8Array(16));
  b[6] = (b[6] & 15) | 64;
  b[8] = (b[8] & 63) | 128;
  const hex = Array.from(b, (x) => x.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
};
