// What this phone keeps, in IndexedDB: nothing says "kept" before it is on the disk, and no reading is ever deleted.

const NAME = "field-book";
const VERSION = 3; // 2: what can't be measured; 3: whether a spool fits
const STORES = { facts: "name", readings: "key", photos: "key", checks: "key", drafts: "tie_in", obstacles: "key", fits: "key" };
const SAID = { readings: "tie_in", obstacles: "draft", fits: "draft" }; // what photos may be of, and how each names its draft
const DURABLE = { durability: "strict" };

let opening = null;
const database = () => (opening ??= globalThis.idb.openDB(NAME, VERSION, {
  upgrade(db) {
    for (const [store, keyPath] of Object.entries(STORES).filter(([name]) => !db.objectStoreNames.contains(name))) {
      const made = db.createObjectStore(store, { keyPath });
      if (keyPath === "key") made.createIndex("state", "state");
      if (store === "photos") made.createIndex("reading_key", "reading_key");
    }
  },
  blocking() {
    opening?.then((db) => db.close());
    opening = null;
  },
  terminated() {
    opening = null;
  },
}));

const told = "BroadcastChannel" in globalThis ? new BroadcastChannel("field-book") : null;
const listeners = new Set();
const facts = new Map(); // as read or written here, until another tab writes one
told?.addEventListener("message", ({ data }) => {
  if (data === "facts") facts.clear();
  else listeners.forEach((listener) => listener());
});

// Called when anything kept here changes, in this tab or another one.
export const whenChanged = (listener) => listeners.add(listener);

function changed() {
  told?.postMessage("changed");
  listeners.forEach((listener) => listener());
}

// One transaction over several stores, on the disk before this returns.
async function write(stores, work) {
  const transaction = (await database()).transaction(stores, "readwrite", DURABLE);
  await Promise.all([work(...stores.map((name) => transaction.objectStore(name))), transaction.done]);
  changed();
}

const all = async (store) => (await database()).getAll(store);

// The book, the jig of the shift. Read from the disk once: the book is long, and every screen asks for it.
export async function fact(name) {
  if (facts.has(name)) return facts.get(name);
  const value = (await (await database()).get("facts", name))?.value ?? null;
  if (told) facts.set(name, value);
  return value;
}

export async function keepFact(name, value) {
  if (told) facts.set(name, value);
  await (await database()).put("facts", { name, value });
  told?.postMessage("facts");
}

// A fresh key: randomUUID is missing where the address has no TLS, getRandomValues is not.
export function freshKey() {
  if (crypto.randomUUID) return crypto.randomUUID();
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

export const readings = async () => (await all("readings")).sort((one, other) => one.taken_at.localeCompare(other.taken_at));
export const checks = async () => (await all("checks")).sort((one, other) => one.checked_at.localeCompare(other.checked_at));

export const photosOf = async (readingKey) => (await database()).getAllFromIndex("photos", "reading_key", readingKey);
export const photo = async (key) => (await database()).get("photos", key);

// Keys alone: the bytes of one photo are in memory at a time.
export const unsentPhotos = async () => (await database()).getAllKeysFromIndex("photos", "state", "kept");

export const photosAsking = async () => (await database()).getAllFromIndex("photos", "state", "asks");

// Keeps what was said with its photos and lets go of its draft, together. A photo's `reading_key` is the key of what it
// is of, whatever that is.
async function keepSaid(name, said) {
  await write([name, "photos", "drafts"], async (kept, photos, drafts) => {
    await kept.add(said);
    for (const one of await photos.index("reading_key").getAll(said.key)) await photos.put({ ...one, state: "kept" });
    await drafts.delete(said[SAID[name]]);
  });
}
export const keepReading = (reading) => keepSaid("readings", reading);
export const keepObstacle = (obstacle) => keepSaid("obstacles", obstacle);
export const keepFit = (fit) => keepSaid("fits", fit);

// A photo goes with its draft: one without the other would belong to nobody after a cut.
export const keepPhoto = (photo, draft) => write(["photos", "drafts"], (photos, drafts) => Promise.all([photos.add(photo), drafts.put(draft)]));
export const obstacles = async () => (await all("obstacles")).sort((one, other) => one.seen_at.localeCompare(other.seen_at));
export const fits = async () => (await all("fits")).sort((one, other) => one.seen_at.localeCompare(other.seen_at));
export const keepCheck = (check) => write(["checks"], (kept) => kept.add(check));

async function change(store, pairs) {
  if (!pairs.length) return;
  await write([store], async (rows) => {
    for (const [key, news] of pairs) {
      const row = await rows.get(key);
      if (row) await rows.put({ ...row, ...news });
    }
  });
}

// Adds what another phone kept, all of it or nothing; what is here already stays as it is.
export async function takeOver(given) {
  const count = { readings: 0, obstacles: 0, fits: 0, photos: 0, known: 0 };
  const names = ["readings", "obstacles", "fits", "photos"];
  await write(names, async (...stores) => {
    for (const [place, name] of names.entries()) {
      for (const row of given[name]) {
        if (await stores[place].getKey(row.key)) count.known += 1;
        else {
          await stores[place].add(row);
          count[name] += 1;
        }
      }
    }
  });
  return count;
}

export const changeReadings = (pairs) => change("readings", pairs); // pairs of key and news, on the disk together
export const changeReading = (key, news) => change("readings", [[key, news]]);
export const changeAll = (store, pairs) => change(store, pairs);
export const changeOne = (store, key, news) => change(store, [[key, news]]);

// A photo that the shop has: its bytes go, its row stays.
export const photoSent = (key, news) => change("photos", [[key, { state: "sent", bytes: null, ...news }]]);
export const changePhoto = (key, news) => change("photos", [[key, news]]);

export const forgetPhoto = (key) => write(["photos"], (photos) => photos.delete(key)); // only before its reading is kept

export const draftOf = async (tieIn) => (await database()).get("drafts", tieIn);
export const drafts = () => all("drafts");
export async function keepDraft(draft) {
  await (await database()).put("drafts", draft);
}
export async function dropDraft(tieIn) {
  await (await database()).delete("drafts", tieIn);
}

// How much stands where: kept and not sent, sent, asking for a decision, set aside.
export async function counts() {
  const db = await database();
  const having = (store, state) => db.countFromIndex(store, "state", state);
  const [kept, sent, asks, aside] = await Promise.all(["kept", "sent", "asks", "aside"].map((state) => having("readings", state)));
  const [checks, photos, obstacles, fits] = await Promise.all(["checks", "photos", "obstacles", "fits"].map((name) => having(name, "kept")));
  const asking = await Promise.all(["checks", "obstacles", "fits"].map((name) => having(name, "asks")));
  return { kept, sent, asks: asking.reduce((sum, one) => sum + one, asks), aside, checks, photos, obstacles, fits };
}
