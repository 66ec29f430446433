// What is kept on this phone: in IndexedDB, or where that is shut, in localStorage.

const NAME = "kept";
const KEY = "fabshop-kept";

const asked = (request) =>
  new Promise((done, failed) => {
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });

const opened = (() => {
  let promise;
  return () =>
    (promise ??= new Promise((done, failed) => {
      const request = indexedDB.open("fabshop", 1);
      request.onupgradeneeded = () => request.result.createObjectStore(NAME, { keyPath: "id" });
      request.onsuccess = () => done(request.result);
      request.onerror = () => failed(request.error);
      request.onblocked = () => failed(new Error("blocked"));
    }).catch(() => null));
})();

const table = async (mode) => {
  const db = await opened();
  return db && db.transaction(NAME, mode, { durability: "strict" }).objectStore(NAME);
};

const asUrl = (blob) =>
  new Promise((done) => {
    const reader = new FileReader();
    reader.onload = () => done(reader.result);
    reader.readAsDataURL(blob);
  });

const plain = {
  read: () => JSON.parse(localStorage.getItem(KEY) || "[]"),
  write: (entries) => localStorage.setItem(KEY, JSON.stringify(entries)),
};

export const keep = async (entry) => {
  const store = await table("readwrite");
  if (store) {
    const transaction = store.transaction;
    store.put(entry);
    await new Promise((done, failed) => {
      transaction.oncomplete = done;
      transaction.onerror = transaction.onabort = () => failed(transaction.error);
    });
    return;
  }
  const files = await Promise.all(
    entry.files.map(async ([name, blob, title]) => [name, await asUrl(blob), title]),
  );
  const others = plain.read().filter((one) => one.id !== entry.id);
  plain.write([...others, { ...entry, files }]);
};

export const drop = async (id) => {
  const store = await table("readwrite");
  if (store) await asked(store.delete(id));
  else plain.write(plain.read().filter((one) => one.id !== id));
};

// Everything kept, in the order of the taps, photos last.
export const all = async () => {
  const store = await table("readonly");
  const entries = store ? await asked(store.getAll()) : plain.read();
  return entries.sort((a, b) => a.is_photo - b.is_photo || a.n - b.n);
};

export const asBlob = async (file) =>
  typeof file === "string" ? (await fetch(file)).blob() : file;
