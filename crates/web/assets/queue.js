// @ts-check
// Taps and photos that the desk has not got yet. They lie in this browser's own store, so that a lost network, a reload or a closed tab
// loses none; several tabs share it, and the store's transactions see to it that no tap is kept twice.

/** @typedef {import("./day.js").Tap} Tap */
/** @typedef {{ id: string, board: string, number: string, caption: string, file: Blob, name: string, why: string }} Photo */

const STORE = "groundproof-now";
/** Taps sent in one go; the desk takes no more. */
export const BATCH = 50;
/** Taps that are remembered after the desk has them, for their marks. */
const REMEMBERED = 60;

/** 128 bits as text. A page without TLS has no other source of them. */
export function random() {
  return [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** @template T @param {IDBRequest<T>} request @returns {Promise<T>} */
function asked(request) {
  return new Promise((done, failed) => {
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });
}

/** @param {IDBTransaction} work @returns {Promise<void>} */
function over(work) {
  return new Promise((done, failed) => {
    work.oncomplete = () => done();
    work.onerror = work.onabort = () => failed(work.error);
  });
}

export class Queue {
  /** @param {IDBDatabase} store */
  constructor(store) {
    this.store = store;
    // Other tabs of this browser hear of each change.
    this.tabs = new BroadcastChannel(STORE);
  }

  /** Opens the store; fails where the browser keeps nothing. */
  static async open() {
    const opening = indexedDB.open(STORE, 1);
    opening.onupgradeneeded = () => {
      opening.result.createObjectStore("taps", { keyPath: "id" });
      opening.result.createObjectStore("photos", { keyPath: "id" });
      opening.result.createObjectStore("self");
    };
    return new Queue(await asked(opening));
  }

  /** @param {"taps" | "photos"} name */
  write(name) {
    // "strict" waits for the disk: a tap that says it is kept is kept.
    return this.store.transaction(name === "taps" ? ["taps", "self"] : name, "readwrite", { durability: "strict" });
  }

  /** All taps that are remembered, in order. @returns {Promise<Tap[]>} */
  async taps() {
    const all = await asked(this.store.transaction("taps").objectStore("taps").getAll());
    return all.sort((a, b) => a.seq - b.seq);
  }

  /**
   * Keeps a tap. Nothing is kept twice: if this step was just said to be done or spoilt in another tab, the answer is `false`.
   * @param {Omit<Tap, "id" | "seq" | "fate" | "why" | "heard">} tap
   */
  async keep(tap) {
    const work = this.write("taps");
    const ended = over(work);
    const taps = work.objectStore("taps");
    const self = work.objectStore("self");
    const [all, last] = await Promise.all([/** @type {Promise<Tap[]>} */ (asked(taps.getAll())), asked(self.get("seq"))]);
    const waiting = all.filter((each) => each.fate === "kept");
    const back = new Set(waiting.filter((each) => each.kind === "undo").map((each) => each.of));
    const same = (/** @type {Tap} */ each) =>
      tap.kind === "undo"
        ? each.kind === "undo" && each.of === tap.of
        : each.sitting === tap.sitting && each.step === tap.step && (each.kind === "done" || each.kind === "spoilt") && !back.has(each.id);
    const fresh = !waiting.some(same);
    if (fresh) {
      const seq = (typeof last === "number" ? last : 0) + 1;
      self.put(seq, "seq");
      taps.add({ ...tap, id: random(), seq, fate: "kept", why: "", heard: 0 });
    }
    await ended;
    this.tabs.postMessage("changed");
    return fresh;
  }

  /** Writes down what the desk said of taps, and forgets those that are long done. @param {{ id: string, outcome: string, why: string }[]} outcomes */
  async heard(outcomes) {
    const work = this.write("taps");
    const ended = over(work);
    const taps = work.objectStore("taps");
    /** @type {Tap[]} */
    const all = await asked(taps.getAll());
    for (const { id, outcome, why } of outcomes) {
      const tap = all.find((each) => each.id === id);
      if (!tap) continue;
      tap.fate = outcome === "refused" ? "refused" : outcome === "other device did it" ? "other" : "stored";
      tap.why = why;
      tap.heard = Date.now();
      taps.put(tap);
    }
    const gone = all.filter((tap) => tap.fate === "stored").sort((a, b) => b.seq - a.seq).slice(REMEMBERED);
    for (const tap of gone) taps.delete(tap.id);
    await ended;
    this.tabs.postMessage("changed");
  }

  /** Forgets a tap that came to nothing, once a person has read why. @param {string} id */
  async forget(id) {
    const work = this.write("taps");
    work.objectStore("taps").delete(id);
    await over(work);
    this.tabs.postMessage("changed");
  }

  /** @returns {Promise<Photo[]>} */
  photos() {
    return asked(this.store.transaction("photos").objectStore("photos").getAll());
  }

  /** @param {Photo} photo */
  async put_photo(photo) {
    const work = this.write("photos");
    work.objectStore("photos").put(photo);
    await over(work);
  }

  /** @param {string} id */
  async drop_photo(id) {
    const work = this.write("photos");
    work.objectStore("photos").delete(id);
    await over(work);
  }
}

/** Does something again and again until nothing is left to do; waits longer each time that it fails, from 1 to 30 seconds. */
export class Errand {
  /** @param {() => Promise<boolean>} step does one piece; `false` when nothing is left; throws when it must be tried again */
  constructor(step) {
    this.step = step;
    this.running = false;
    this.again = false;
    this.wait = 1000;
    /** @type {number | undefined} */
    this.timer = undefined;
  }

  /** Starts at once, whatever it was waiting for. */
  async go() {
    clearTimeout(this.timer);
    if (this.running) {
      this.again = true;
      return;
    }
    this.running = true;
    try {
      do {
        this.again = false;
        while (await this.step()) this.wait = 1000;
      } while (this.again);
      this.wait = 1000;
    } catch {
      this.timer = setTimeout(() => this.go(), this.wait);
      this.wait = Math.min(this.wait * 2, 30_000);
    } finally {
      this.running = false;
    }
  }
}
