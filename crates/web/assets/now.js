// @ts-check
// The making day in the hand: a tap is kept here before anything changes on the page, then it is sent; what the desk answers is drawn.

import { hour, open, standing } from "./day.js";
import { by_id, draw, draw_grams, draw_state } from "./draw.js";
import { BATCH, Errand, Queue, random } from "./queue.js";

/** @typedef {import("./day.js").Data} Data */
/** @typedef {import("./day.js").Kind} Kind */
/** @typedef {import("./day.js").Step} Step */
/** @typedef {import("./day.js").Tap} Tap */

/** Between two looks at what other devices did. */
const ASK_EVERY = 15_000;
/** An answer that takes longer than this counts as lost. */
const PATIENCE = 30_000;
/** After a change of the one thing to do, a second touch of the same finger is not meant for it. */
const BOUNCE = 500;

class Page {
  /** @param {Data} data @param {Queue} queue */
  constructor(data, queue) {
    this.data = data;
    this.queue = queue;
    this.arrived = Date.now();
    this.skew = skew_of(data, 0);
    /** @type {Tap[]} */
    this.taps = [];
    this.reached = true;
    this.chosen = new URLSearchParams(location.search).get("step") ?? "";
    /** @type {Step | undefined} */
    this.first = undefined;
    this.changed = 0;
    /** Steps whose wait was over when the page last looked. @type {Set<string> | undefined} */
    this.opened = undefined;
    this.ring = new Ring();
    this.taking = new Errand(() => this.send());
    this.filing = new Errand(() => this.file());
  }

  async refresh() {
    this.taps = await this.queue.taps();
    this.redraw();
  }

  redraw() {
    draw_state(this.taps, this.reached, (id) => this.queue.forget(id).then(() => this.refresh()));
    const day = this.data.now;
    if (day.is !== "day") return;
    const ms = Date.now() + this.skew;
    const now = standing(day, this.arrived, this.taps, this.skew);
    const first = draw(day, now, this.chosen, ms);
    if (first?.id !== this.first?.id) this.changed = Date.now();
    this.first = first;
    const opened = new Set(now.steps.filter((step) => open(step, ms, now)).map((step) => step.id));
    const fresh = now.steps.find((step) => step.opens_ms && opened.has(step.id) && this.opened && !this.opened.has(step.id));
    if (fresh) this.ring.ring(`Now: ${fresh.say}`);
    this.opened = opened;
  }

  /** Takes in what the desk says, unless something newer stands here already. @param {Data} data @param {number} took */
  take(data, took) {
    const before = this.data.now;
    const other_day = data.now.is === "day" && before.is === "day" && data.now.sitting !== before.sitting;
    if (data.now.is !== before.is || other_day) {
      // Another page: a day began or ended.
      location.reload();
      return;
    }
    this.data.token = data.token;
    if (data.now.is === "day" && before.is === "day" && data.now.seen < before.seen) return;
    this.data = data;
    this.arrived = Date.now();
    this.skew = skew_of(data, took);
  }

  /** @param {Kind} kind @param {string} step @param {string} words @param {{ of?: string, wet_g?: string }} [more] */
  async tap(kind, step, words, more = {}) {
    const day = this.data.now;
    if (day.is !== "day") return;
    await this.queue.keep({ sitting: day.sitting, step, kind, at: Date.now(), seen: day.seen, of: more.of ?? "", wet_g: more.wet_g ?? "", say: words });
    this.chosen = "";
    await this.refresh();
    this.taking.go();
  }

  /** Sends the oldest taps; `false` when none is left. */
  async send() {
    const all = (await this.queue.taps()).filter((tap) => tap.fate === "kept");
    const sitting = all[0]?.sitting;
    const taps = all.filter((tap) => tap.sitting === sitting).slice(0, BATCH);
    if (!sitting) return false;
    const began = Date.now();
    const body = () => JSON.stringify({
      sitting, token: this.data.token, phone_ms: Date.now(),
      taps: taps.map(({ id, seq, step, kind, at, seen, of, wet_g }) => ({ id, seq, step, kind, at, seen, of, wet_g })),
    });
    let answer = await this.ask("/taps", { method: "POST", body: body(), headers: { "Content-Type": "application/json" } });
    if (answer.status === 403) {
      // The desk was started anew since this page was made; it may still know this browser.
      await this.look();
      answer = await this.ask("/taps", { method: "POST", body: body(), headers: { "Content-Type": "application/json" } });
    }
    if (!answer.ok) {
      complain(answer.status === 403 ? "The desk was started anew and does not know this browser any more. Open the page from the desk again; your taps are kept here." : await reason(answer));
      throw new Error("not taken");
    }
    complain("");
    const heard = await answer.json();
    await this.queue.heard(heard.outcomes);
    this.take({ token: this.data.token, now: heard.now }, Date.now() - began);
    await this.refresh();
    return true;
  }

  /** Files the oldest photo, whole or not at all; `false` when none is left. */
  async file() {
    const photos = (await this.queue.photos()).filter((photo) => photo.why === "");
    const photo = photos[0];
    const place = by_id("photos");
    if (place) place.textContent = photo ? `${photos.length === 1 ? "1 photo" : `${photos.length} photos`} kept here; board ${photo.number} goes to the desk first.` : "";
    if (!photo) return false;
    const form = new FormData();
    form.set("token", this.data.token);
    // The same mark each time, so that a photo that arrived but was not answered is filed once.
    form.set("once", photo.id);
    form.set("caption", photo.caption);
    form.set("photo", photo.file, photo.name);
    const answer = await this.ask(`/board/${encodeURIComponent(photo.board)}/photo`, { method: "POST", body: form, redirect: "manual" });
    if (answer.type === "opaqueredirect") {
      await this.queue.drop_photo(photo.id);
      if (place) place.textContent = `The photo of board ${photo.number} is on the desk.`;
      return (await this.queue.photos()).length > 0;
    }
    if (answer.status === 403) {
      await this.look();
      throw new Error("not taken");
    }
    if (place) place.textContent = await reason(answer);
    // A file that is no photo will be none the next time.
    if (answer.status >= 400 && answer.status < 500) await this.queue.drop_photo(photo.id);
    else throw new Error("not taken");
    return false;
  }

  /** Asks what stands on the desk now. */
  async look() {
    const began = Date.now();
    const answer = await this.ask("/now/data", {});
    if (!answer.ok) return;
    this.take(await answer.json(), Date.now() - began);
    await this.refresh();
  }

  /** @param {string} address @param {RequestInit} what */
  async ask(address, what) {
    try {
      const answer = await fetch(address, { ...what, signal: AbortSignal.timeout(PATIENCE) });
      this.reached = true;
      return answer;
    } catch (why) {
      this.reached = false;
      this.redraw();
      throw why;
    }
  }

  /** Everything that may have been missed while nobody looked. */
  catch_up() {
    this.taking.go();
    this.filing.go();
    this.look().catch(() => {});
  }
}

/** How far the desk's clock is ahead of this one; half of the way there and back has passed since it was read. @param {Data} data @param {number} took */
function skew_of(data, took) {
  return data.now.is === "day" ? data.now.desk_ms + took / 2 - Date.now() : 0;
}

/** @param {string} why */
function complain(why) {
  const place = by_id("trouble");
  if (place && place.textContent !== why) place.textContent = why;
}

/** Why the desk refused, from its JSON or its page. @param {Response} answer */
async function reason(answer) {
  const text = await answer.text();
  if (answer.headers.get("Content-Type")?.includes("json")) return String(JSON.parse(text).why ?? "The desk refused.");
  const said = new DOMParser().parseFromString(text, "text/html").querySelector(".lead");
  return said?.textContent?.trim() || "The desk refused and did not say why.";
}

/** A short tone and another title when a wait is over; browsers let a page sound only after it was touched. */
class Ring {
  constructor() {
    this.button = by_id("ring");
    /** @type {AudioContext | undefined} */
    this.sound = undefined;
    this.on = localStorage.getItem("ring") === "on";
    this.title = document.title;
    this.button?.addEventListener("click", () => {
      this.on = !this.on;
      localStorage.setItem("ring", this.on ? "on" : "off");
      this.wake();
      this.draw();
    });
    document.addEventListener("pointerdown", () => this.wake());
    document.addEventListener("visibilitychange", () => {
      if (!document.hidden) document.title = this.title;
    });
    this.draw();
  }

  wake() {
    if (!this.on) return;
    this.sound ??= new AudioContext();
    this.sound.resume();
  }

  draw() {
    if (!this.button) return;
    this.button.textContent = `Ring when a wait ends: ${this.on ? "on" : "off"}`;
    this.button.setAttribute("aria-pressed", String(this.on));
  }

  /** @param {string} words */
  ring(words) {
    if (!this.on) return;
    document.title = words;
    const sound = this.sound;
    if (!sound || sound.state !== "running") return;
    for (const [at, tone] of [[0, 660], [0.25, 880]]) {
      const voice = sound.createOscillator();
      const loud = sound.createGain();
      loud.gain.value = 0.2;
      voice.frequency.value = tone ?? 660;
      voice.connect(loud).connect(sound.destination);
      voice.start(sound.currentTime + (at ?? 0));
      voice.stop(sound.currentTime + (at ?? 0) + 0.18);
    }
  }
}

/** @param {Page} page */
function listen(page) {
  const bars = by_id("bars");
  if (bars instanceof HTMLFormElement) {
    bars.addEventListener("submit", (event) => {
      event.preventDefault();
      const pressed = event.submitter;
      const first = page.first;
      if (!(pressed instanceof HTMLButtonElement) || !first || Date.now() - page.changed < BOUNCE) return;
      const kind = /** @type {Kind} */ (pressed.value);
      const wet = by_id("wet");
      const grams = kind === "done" && first.aim_g !== null && wet instanceof HTMLInputElement ? wet.value.trim() : "";
      page.tap(kind, first.id, `${first.say}: ${kind}`, { wet_g: grams });
    });
  }
  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (!(form instanceof HTMLFormElement) || event.defaultPrevented) return;
    if (form.classList.contains("slip")) {
      event.preventDefault();
      const fields = new FormData(form);
      const said = form.closest("li")?.querySelector("[data-slot=say]")?.textContent ?? "";
      page.tap("undo", String(fields.get("step")), `${said}: taken back`, { of: String(fields.get("of")) });
    } else if (form.id === "read-air" || form.id === "weigh") {
      event.preventDefault();
      plain(page, form);
    } else if (form.id === "end" && page.taps.some((tap) => tap.fate === "kept")) {
      event.preventDefault();
      complain("Taps are still kept here. Wait until all are on the desk, then end the day.");
    }
  });
  document.addEventListener("click", (event) => {
    const link = event.target instanceof Element ? event.target.closest("a[data-step]") : null;
    if (!(link instanceof HTMLAnchorElement) || event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    page.chosen = link.dataset.step ?? "";
    page.redraw();
    by_id("say")?.scrollIntoView({ block: "center" });
  });
  by_id("wet")?.addEventListener("input", draw_grams);
  by_id("spare")?.addEventListener("click", () => by_id("spoil")?.removeAttribute("open"));
  for (const button of document.querySelectorAll("button[data-add], button[data-by]")) {
    if (button instanceof HTMLButtonElement) button.addEventListener("click", () => add(button));
  }
  listen_photo(page);
  document.addEventListener("visibilitychange", () => {
    if (!document.hidden) page.catch_up();
  });
  addEventListener("pageshow", (event) => {
    if (event.persisted) page.catch_up();
  });
  addEventListener("online", () => page.catch_up());
  page.queue.tabs.addEventListener("message", () => page.catch_up());
  setInterval(() => page.redraw(), 1000);
  setInterval(() => {
    if (!document.hidden) page.look().catch(() => {});
  }, ASK_EVERY);
}

/** A form that is sent at once or not at all; the page stays. @param {Page} page @param {HTMLFormElement} form */
async function plain(page, form) {
  const fields = new URLSearchParams();
  for (const [name, value] of new FormData(form)) fields.append(name, String(value));
  fields.set("token", page.data.token);
  try {
    const answer = await page.ask(form.action, { method: "POST", body: fields, redirect: "manual" });
    if (answer.type !== "opaqueredirect") {
      complain(await reason(answer));
      return;
    }
    complain("");
    // The next one is another entry.
    const once = form.querySelector("input[name=once]");
    if (once instanceof HTMLInputElement) once.value = random();
    await page.look();
  } catch {
    complain("That was not written: the desk does not answer. Press again when it does; what you typed stays.");
  }
}

/** Steps a number up or down. @param {HTMLButtonElement} button */
function add(button) {
  const field = (button.closest(".grams, .stepped"))?.querySelector("input");
  if (!(field instanceof HTMLInputElement)) return;
  const stands = Number.parseFloat((field.value || field.placeholder).replace(",", "."));
  const by = Number.parseFloat(button.dataset.add ?? button.dataset.by ?? "0");
  const places = button.dataset.add ? 1 : 0;
  field.value = Math.max(0, (Number.isFinite(stands) ? stands : 0) + by).toFixed(places);
  draw_grams();
}

/** @param {Page} page */
function listen_photo(page) {
  const form = by_id("photo");
  const chosen = form?.querySelector("input[type=file]");
  if (!(form instanceof HTMLFormElement) || !(chosen instanceof HTMLInputElement)) return;
  form.addEventListener("submit", (event) => event.preventDefault());
  chosen.addEventListener("change", async () => {
    const file = chosen.files?.[0];
    const board = form.querySelector("select");
    if (!file || !(board instanceof HTMLSelectElement)) return;
    const number = board.selectedOptions[0]?.textContent ?? "";
    const typed = form.querySelector("input[name=caption]");
    const day = page.data.now;
    const at = day.is === "day" ? hour(Date.now() + page.skew, day.offset_minutes) : "";
    const caption = (typed instanceof HTMLInputElement && typed.value.trim()) || `Board ${number} at ${at}`;
    await page.queue.put_photo({ id: random(), board: board.value, number, caption, file, name: file.name || "photo.jpg", why: "" });
    chosen.value = "";
    page.filing.go();
  });
}

async function start() {
  const block = by_id("day");
  if (!block?.textContent) return;
  /** @type {Data} */
  const data = JSON.parse(block.textContent);
  /** @type {Queue} */
  let queue;
  try {
    queue = await Queue.open();
  } catch {
    // A browser that keeps nothing: the page's own forms do the work, one tap and one answer at a time.
    return;
  }
  for (const part of document.querySelectorAll(".scripted")) {
    if (part instanceof HTMLElement) part.hidden = false;
  }
  const page = new Page(data, queue);
  listen(page);
  await page.refresh();
  page.taking.go();
  page.filing.go();
}

start();
