// @ts-check
// The page drawn anew from the day as it stands. Moulds (`<template>`) come from the page itself, so that their shape is written once.

import { board_words, hour, left, lies, one, open, pot_words, spoken, until, waits } from "./day.js";

/** @typedef {import("./day.js").Day} Day */
/** @typedef {import("./day.js").Standing} Standing */
/** @typedef {import("./day.js").Step} Step */
/** @typedef {import("./day.js").Tap} Tap */
/** @typedef {Record<string, string>} Values */

/** Steps that are listed at once; as the page does it. */
const NEAR = 5;
const STATES = ["bare", "wet", "perhaps", "matt", "hard", "spoilt"];

/** @param {string} id */
export function by_id(id) {
  return document.getElementById(id);
}

/** @param {string} id @param {string} text hidden where it is empty */
function say(id, text) {
  const place = by_id(id);
  if (!place) return;
  // An unchanged text is left alone, or a screen reader would say it each second.
  if (place.textContent !== text) place.textContent = text;
  place.hidden = text === "";
}

/** What each line was last filled with. @type {WeakMap<Element, string>} */
const filled = new WeakMap();

/** @param {Element} line @param {Values} values */
function fill(line, values) {
  for (const slot of line.querySelectorAll("[data-slot]")) write(slot, values);
  write(line, values);
}

/** @param {Element} slot @param {Values} values */
function write(slot, values) {
  const name = slot instanceof HTMLElement ? slot.dataset.slot : undefined;
  if (name === undefined || !(slot instanceof HTMLElement)) return;
  slot.textContent = values[name] ?? "";
  slot.hidden = slot.textContent === "";
}

/**
 * Fills a list, a line for each of `all`; lines that say the same as before stay as they are, so that a finger on one is not disturbed.
 * @param {string} id @param {string} mould @param {Values[]} all @param {(line: Element, values: Values) => void} [more]
 */
export function list(id, mould, all, more) {
  const place = by_id(id);
  const cast = by_id(`mould-${mould}`);
  if (!place || !(cast instanceof HTMLTemplateElement)) return;
  all.forEach((values, at) => {
    const text = JSON.stringify(values);
    const old = place.children[at];
    if (old && filled.get(old) === text) return;
    const line = /** @type {Element} */ (cast.content.cloneNode(true)).firstElementChild ?? cast.content.firstElementChild?.cloneNode(true);
    if (!(line instanceof Element)) return;
    fill(line, values);
    more?.(line, values);
    filled.set(line, text);
    if (old) old.replaceWith(line);
    else place.append(line);
  });
  while (place.children.length > all.length) place.lastElementChild?.remove();
}

/** @param {Day} day @param {Standing} now @param {string} chosen @param {number} ms the desk's clock @returns {Step | undefined} the one thing to do */
export function draw(day, now, chosen, ms) {
  const first = one(now, chosen, ms);
  draw_one(day, now, first, ms);
  draw_bars(first);
  const offset = day.offset_minutes;
  const after = now.steps
    .filter((step) => step !== first)
    .map((step) => ({
      step: step.id,
      from: step.from,
      say: step.say,
      more: step.more,
      wait: now.said.has(step.id) ? not_yet(now, step, offset) : step.after === null ? waits(step, board_of(now, step), ms, offset) : "",
      open: step.after === null && step.kind !== "wash" ? "yes" : "",
    }));
  const first_of = (/** @type {Element} */ line, /** @type {Values} */ values) => {
    const link = line.querySelector("a");
    if (!link) return;
    link.hidden = !values.open;
    link.href = `/now?step=${encodeURIComponent(values.step ?? "")}`;
    link.dataset.step = values.step ?? "";
  };
  list("near", "later", after.slice(0, NEAR), first_of);
  list("far", "later", after.slice(NEAR), first_of);
  const rest = by_id("rest");
  if (rest) rest.hidden = after.length <= NEAR;
  list("pots", "pot", now.pots.map((pot) => ({ letter: pot.letter, recipe: pot.recipe, words: pot_words(pot, ms), left: left(pot.left) })));
  list("risks", "line", day.risks.map((line) => ({ line })));
  say("no-risks", day.risks.length ? "" : "Nothing is at risk.");
  say("ends", day.ends);
  say("air", day.air ?? "Nobody has read it yet today.");
  draw_boards(now, ms, offset);
  draw_done(now);
  return first;
}

/** @param {Standing} now @param {Step} step @param {number} offset */
function not_yet(now, step, offset) {
  const said = now.said.get(step.id);
  return said === undefined ? "" : `You said not yet at ${hour(said, offset)}. Try again in a while.`;
}

/** @param {Standing} now @param {Step | undefined} step */
function board_of(now, step) {
  return now.boards.find((board) => board.number === step?.board);
}

/** @param {Day} day @param {Standing} now @param {Step | undefined} first @param {number} ms */
function draw_one(day, now, first, ms) {
  const offset = day.offset_minutes;
  const wait = first ? waits(first, board_of(now, first), ms, offset) : "";
  const off = first ? not_yet(now, first, offset) : "";
  say("say", first ? first.say : "All coats of this day are laid.");
  say("more", first?.more ?? "");
  say("wait", wait || off);
  const [short, , long] = first?.opens_ms ?? [0, 0, 0];
  say("count", wait === "" ? "" : ms < short ? `${until(short - ms)} to go` : `may be since ${until(ms - short)}; surely in ${until(long - ms)}`);
  say("by", first?.closes_ms ? `By ${hour(first.closes_ms, offset)} at the latest.` : "");
  say("how", first?.how ?? "");
  say("caution", first?.caution ?? "");
  const other = now.steps.find((step) => step !== first && open(step, ms, now));
  const place = by_id("meanwhile");
  if (!place) return;
  place.hidden = !other || (wait === "" && off === "");
  let link = place.querySelector("a");
  if (!link) {
    link = document.createElement("a");
    link.className = "button";
    place.append(link);
  }
  const words = `Meanwhile: ${other?.say ?? ""}`;
  if (link.textContent !== words) link.textContent = words;
  link.href = `/now?step=${encodeURIComponent(other?.id ?? "")}`;
  link.dataset.step = other?.id ?? "";
}

/** @param {Step | undefined} first */
function draw_bars(first) {
  const bars = by_id("bars");
  if (!(bars instanceof HTMLFormElement)) return;
  bars.hidden = first === undefined;
  if (!first) return;
  const step = bars.querySelector("input[name=step]");
  if (!(step instanceof HTMLInputElement) || bars.dataset.drawn === first.id) return;
  // Another thing to do: nothing that was said of the last one may stick to it.
  bars.dataset.drawn = first.id;
  step.value = first.id;
  const spoil = by_id("spoil");
  if (spoil instanceof HTMLDetailsElement) {
    spoil.open = false;
    spoil.hidden = !first.may_spoil;
  }
  say("sure", first.board === null ? "The pot is spoilt?" : `Board ${spoken(first.board)} is spoilt?`);
  const grams = by_id("grams");
  const wet = by_id("wet");
  if (grams && wet instanceof HTMLInputElement) {
    grams.hidden = first.aim_g === null;
    wet.value = "";
    wet.placeholder = first.aim_g ?? "";
    draw_grams();
  }
}

/** Says whether the grams that stand there were weighed: untouched ones are what was aimed at. */
export function draw_grams() {
  const wet = by_id("wet");
  if (wet instanceof HTMLInputElement) say("aimed", wet.value.trim() === "" ? "g aimed at" : "g weighed");
}

/** @param {Standing} now @param {number} ms @param {number} offset */
function draw_boards(now, ms, offset) {
  list("boards", "board", now.boards.map((board) => ({ number: spoken(board.number), words: board_words(board, ms, offset), pace: board.pace })));
  for (const board of now.boards) {
    // The picture's boards carry the same words as classes, and a mark for each coat.
    const lie = by_id(`lie-${board.number}`);
    if (!lie) continue;
    const state = lies(board, ms);
    for (const each of STATES) lie.classList.toggle(each, each === state);
    lie.querySelectorAll("rect.i, rect.lq").forEach((mark, coat) => mark.setAttribute("class", coat < board.coats ? "i" : "lq"));
  }
}

/** @type {Record<string, [string, string]>} how a tap is marked, and where it is */
const MARKS = {
  kept: ["half", "kept here, not on the desk yet"],
  stored: ["full", "on the desk, from here"],
  other: ["other", "another device had done it"],
};

/** @param {Standing} now */
function draw_done(now) {
  const lines = now.done.slice(0, 10).map((done) => {
    const [mark, where] = MARKS[done.fate] ?? ["full", done.device ? `on the desk, from the ${done.device}` : "on the desk"];
    return { tap: done.tap, step: done.step, say: done.say, at: done.at, where, mark };
  });
  list("done", "done", lines, (line, values) => {
    const tick = line.querySelector(".tick");
    if (tick) tick.className = `tick ${values.mark}`;
    const form = line.querySelector("form");
    if (!form) return;
    form.hidden = !values.tap;
    for (const [name, value] of [["step", values.step], ["of", values.tap]]) {
      const field = form.querySelector(`input[name=${name}]`);
      if (field instanceof HTMLInputElement) field.value = value ?? "";
    }
  });
}

/** Where the taps are. @param {Tap[]} taps @param {boolean} reached whether the desk answered the last time @param {(id: string) => void} read */
export function draw_state(taps, reached, read) {
  const kept = taps.filter((tap) => tap.fate === "kept").length;
  const where = kept === 0 ? "all on the desk" : `${kept === 1 ? "1 tap" : `${kept} taps`} kept here`;
  // With nothing under way there is nothing to say while all is well.
  const quiet = !by_id("bars") && kept === 0 && reached;
  say("state", quiet ? "" : reached ? where : `${where}; the desk does not answer`);
  by_id("state")?.classList.toggle("kept", kept > 0 || !reached);
  const notes = taps
    .filter((tap) => tap.fate === "other" || tap.fate === "refused")
    .map((tap) => ({ id: tap.id, line: tap.fate === "other" ? `Another device did it: ${tap.say}. ${tap.why}` : `The desk did not take "${tap.say}": ${tap.why}` }));
  list("notes", "note", notes, (line, values) => line.querySelector("button")?.addEventListener("click", () => read(values.id ?? "")));
}
