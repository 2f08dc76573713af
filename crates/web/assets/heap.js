// @ts-check
// Photos that are dropped or chosen: they lie in this browser's own store before anything is sent, so that a reload, a closed tab or a
// stopped program loses none; then they go to the desk one at a time.

/** @typedef {{ key?: number, name: string, of: string, once: string, file: Blob }} Waiting */
/** @typedef {{ photo?: string, says?: string, of?: string, measured?: boolean, why?: string }} Said */

const STORE = "groundproof-heap";
/** Endings that are taken out of a folder; what can't be opened is told why. */
const PHOTO = /\.(jpe?g|png|heic|heif|avif)$/i;
/** Waits between tries while the desk does not answer, seconds. */
const WAITS = [1, 2, 5, 10, 30];

const form = /** @type {HTMLFormElement | null} */ (document.querySelector("form.drop[data-heap]"));
const heap = document.getElementById("heap");

/** 128 bits as text. */
function random() {
  return [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** @template T @param {IDBRequest<T>} request @returns {Promise<T>} */
function asked(request) {
  return new Promise((done, failed) => {
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });
}

/** @returns {Promise<IDBDatabase>} */
function opened() {
  const opening = indexedDB.open(STORE, 1);
  opening.onupgradeneeded = () => opening.result.createObjectStore("photos", { keyPath: "key", autoIncrement: true });
  return asked(opening);
}

/** @param {IDBDatabase} store @param {Waiting[]} photos */
function keep(store, photos) {
  return new Promise((done, failed) => {
    const work = store.transaction("photos", "readwrite", { durability: "strict" });
    for (const photo of photos) work.objectStore("photos").add(photo);
    work.oncomplete = () => done(undefined);
    work.onerror = work.onabort = () => failed(work.error);
  });
}

/** @param {IDBDatabase} store @returns {Promise<Waiting | undefined>} */
async function first(store) {
  const cursor = await asked(store.transaction("photos").objectStore("photos").openCursor());
  return cursor ? cursor.value : undefined;
}

/** @param {IDBDatabase} store */
const left = (store) => asked(store.transaction("photos").objectStore("photos").count());

/** @param {IDBDatabase} store @param {number} key */
const drop = (store, key) => asked(store.transaction("photos", "readwrite").objectStore("photos").delete(key));

/** All files below a dropped folder. @param {FileSystemEntry} entry @returns {Promise<File[]>} */
async function inside(entry) {
  if (entry.isFile) {
    const file = await new Promise((done, failed) => /** @type {FileSystemFileEntry} */ (entry).file(done, failed));
    return [file];
  }
  const reader = /** @type {FileSystemDirectoryEntry} */ (entry).createReader();
  const all = [];
  // A folder is told in parts of at most a hundred; an empty part is the end.
  for (;;) {
    /** @type {FileSystemEntry[]} */
    const part = await new Promise((done, failed) => reader.readEntries(done, failed));
    if (part.length === 0) break;
    for (const each of part) all.push(...(await inside(each)));
  }
  return all.filter((file) => PHOTO.test(file.name));
}

/** Keeps photos in the heap and goes where it is worked off. @param {File[]} files @param {HTMLFormElement} from */
async function lay(files, from) {
  const photos = files.filter((file) => file.size > 0).sort((a, b) => a.name.localeCompare(b.name, undefined, { numeric: true }));
  if (photos.length === 0) return say(from, "There is no photo in that. Photos are files such as IMG_0042.jpg.");
  try {
    const store = await opened();
    await keep(store, photos.map((file) => ({ name: file.name, of: from.dataset.of ?? "", once: random(), file })));
    if (heap) await work(store);
    else location.assign("/photos");
  } catch {
    say(from, "This browser keeps nothing, perhaps its disk is full: choose one photo at a time and press the button.");
  }
}

/** @param {HTMLElement} after @param {string} words */
function say(after, words) {
  const line = after.querySelector("[role=alert]") ?? after.appendChild(document.createElement("p"));
  line.setAttribute("role", "alert");
  line.textContent = words;
}

/** Sends one photo. @param {Waiting} photo @param {HTMLFormElement} from @returns {Promise<Said>} */
async function sent(photo, from) {
  const body = new FormData();
  body.set("token", /** @type {HTMLInputElement} */ (from.elements.namedItem("token")).value);
  body.set("once", photo.once);
  body.set("of", photo.of);
  body.set("caption", photo.name);
  body.set("photo", photo.file, photo.name);
  const answer = await fetch(from.dataset.heap ?? "", { method: "POST", body });
  const said = await answer.json().catch(() => ({ why: "The desk gave no answer that can be read. Load this page anew." }));
  // An old page can send nothing more: the photos stay in the heap until it is loaded anew.
  if (answer.status === 403 || answer.status >= 500) throw new Error(said.why);
  return said;
}

let working = false;

/** Works the heap off, oldest first. @param {IDBDatabase} store */
async function work(store) {
  const words = document.getElementById("heap-words");
  const bar = /** @type {HTMLProgressElement | null} */ (document.getElementById("heap-bar"));
  if (working || !form || !heap || !words || !bar) return;
  working = true;
  const next = document.getElementById("heap-next");
  let done = 0;
  let homeless = 0;
  let tries = 0;
  for (;;) {
    const photo = await first(store);
    const waiting = await left(store);
    bar.max = Math.max(done + waiting, 1);
    bar.value = done;
    if (!photo) break;
    heap.hidden = false;
    words.textContent = `Photo ${done + 1} of ${done + waiting}: ${photo.name}`;
    if (next) next.textContent = waiting === 1 ? "One photo is being measured." : `${waiting} photos are being measured.`;
    try {
      const said = await sent(photo, form);
      await drop(store, photo.key ?? 0);
      row(photo, said);
      if (said.measured && !said.of) homeless += 1;
      done += 1;
      tries = 0;
    } catch (why) {
      const wait = WAITS[Math.min(tries, WAITS.length - 1)] ?? 30;
      tries += 1;
      const cause = why instanceof TypeError || !(why instanceof Error) ? "the desk does not answer" : why.message;
      words.textContent = `${waiting} ${waiting === 1 ? "photo is" : "photos are"} kept here: ${cause}. Trying again in ${wait} s.`;
      await new Promise((go) => setTimeout(go, wait * 1000));
    }
  }
  working = false;
  if (done > 0) {
    words.textContent = done === 1 ? "One photo is done." : `${done} photos are done.`;
    // What the page said of all photos when it was loaded holds no longer.
    const whose = homeless === 1 ? "one belongs to no board yet: whose is it?" : `${homeless} belong to no board yet: whose are they?`;
    if (next) next.textContent = homeless > 0 ? `${words.textContent.slice(0, -1)}; ${whose}` : words.textContent;
    heap.dataset.done = String(done);
  }
}

/** @param {Waiting} photo @param {Said} said */
function row(photo, said) {
  const list = document.getElementById("heap-list");
  if (!list) return;
  const item = document.createElement("li");
  const name = document.createElement("strong");
  name.textContent = said.of || photo.name;
  const says = document.createElement("span");
  says.textContent = ` ${said.why ?? said.says ?? ""}`;
  if (said.of) says.textContent += ` (${photo.name})`;
  item.dataset.state = said.why ? "refused" : !said.measured ? "not measured" : said.of ? "filed" : "homeless";
  if (said.photo) {
    const way = document.createElement("a");
    way.href = `/photos/${said.photo}`;
    way.append(name, says);
    item.append(way);
  } else {
    item.append(name, says);
  }
  list.append(item);
}

/** @param {HTMLFormElement} here */
function begin(here) {
  for (const part of /** @type {NodeListOf<HTMLElement>} */ (here.querySelectorAll(".with-script"))) part.hidden = false;
  const one = /** @type {HTMLInputElement} */ (here.elements.namedItem("photo"));
  one.multiple = true;
  const folder = /** @type {HTMLInputElement | null} */ (here.querySelector("[data-folder]"));
  if (folder) folder.webkitdirectory = true;
  here.addEventListener("submit", (event) => {
    const files = [...(one.files ?? [])];
    // A single photo goes by the form itself, and its page opens.
    if (files.length < 2) return;
    event.preventDefault();
    void lay(files, here);
  });
  folder?.addEventListener("change", () => void lay([...(folder.files ?? [])].filter((file) => PHOTO.test(file.name)), here));
  document.addEventListener("dragover", (event) => {
    if (!event.dataTransfer?.types.includes("Files")) return;
    event.preventDefault();
    document.body.classList.add("dropping");
  });
  document.addEventListener("dragleave", (event) => {
    if (!event.relatedTarget) document.body.classList.remove("dropping");
  });
  document.addEventListener("drop", (event) => {
    const held = event.dataTransfer;
    if (!held?.types.includes("Files")) return;
    event.preventDefault();
    document.body.classList.remove("dropping");
    // Entries are only there while the event lasts.
    const entries = [...held.items].map((item) => item.webkitGetAsEntry()).filter((entry) => entry !== null);
    const loose = [...held.files];
    void (async () => {
      try {
        await lay(entries.length > 0 ? (await Promise.all(entries.map(inside))).flat() : loose, here);
      } catch {
        say(here, "This folder can't be read from here: choose it with the button instead.");
      }
    })();
  });
}

if (form) {
  begin(form);
  if (heap) void opened().then(work).catch(() => undefined);
}
