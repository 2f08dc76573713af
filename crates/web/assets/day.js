// @ts-check
// The day as it stands, worked on from here while the desk can't be asked: what a tap does to the steps, what waits, in words.
// The desk works it out properly (`show::NowView`, `show::wait_words`) and its answer takes the place of all this.

/**
 * @typedef {{ id: string, kind: string, say: string, more: string, how: string, caution: string, pot: string, board: string | null,
 *   coat: number | null, aim_g: string | null, from_ms: number, from: string, after: string | null, wait_min: [number, number, number],
 *   opens_ms: [number, number, number] | null, closes_ms: number | null, may_spoil: boolean }} Step
 * @typedef {{ letter: string, recipe: string, ready_ms: number | null, old_ms: [number, number] | null, words: string, left: number }} Pot
 * @typedef {{ id: string, number: string, place: number, pot: string, coats: number, of: number, state: string,
 *   matt_ms: [number, number, number] | null, hard_ms: number | null, words: string, pace: string }} Board
 * @typedef {{ tap: string, step: string, say: string, at: string, device: string }} Done
 * @typedef {{ is: "day", sitting: string, trial: string, question: string, day: number, seen: number, desk_ms: number,
 *   offset_minutes: number, steps: Step[], pots: Pot[], boards: Board[], risks: string[], air: string | null, done: Done[], ends: string,
 *   finished: boolean }} Day
 * @typedef {{ is: "quiet" }} Quiet
 * @typedef {{ token: string, now: Day | Quiet }} Data
 * @typedef {"done" | "not yet" | "spoilt" | "undo"} Kind
 * @typedef {"kept" | "stored" | "other" | "refused"} Fate
 * @typedef {{ id: string, seq: number, sitting: string, step: string, kind: Kind, at: number, seen: number, of: string, wet_g: string,
 *   say: string, fate: Fate, why: string, heard: number }} Tap
 * @typedef {{ steps: Step[], boards: Board[], pots: Pot[], done: (Done & { fate: Fate | "" })[], put_off: Set<string>, said: Map<string, number> }} Standing
 */

const MINUTE = 60_000;

/** A time of the day where the desk stands. @param {number} ms @param {number} offset minutes ahead of UTC */
export function hour(ms, offset) {
  const minutes = (((Math.floor(ms / MINUTE) + offset) % 1440) + 1440) % 1440;
  return `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, "0")}`;
}

/** A number of the plan without the noughts in front. @param {string} number */
export function spoken(number) {
  return number.replace(/^0+(?=.)/, "");
}

/**
 * What the taps that the desk has not taken in yet make of the day.
 * @param {Day} day @param {number} arrived when it came from the desk, by this clock @param {Tap[]} taps in their order
 * @param {number} skew desk clock minus this one @returns {Standing}
 */
export function standing(day, arrived, taps, skew) {
  const now = {
    steps: day.steps.map((step) => ({ ...step })),
    boards: day.boards.map((board) => ({ ...board })),
    pots: day.pots.map((pot) => ({ ...pot })),
    done: day.done.map((done) => ({ ...done, fate: /** @type {Fate | ""} */ (taps.find((tap) => tap.id === done.tap)?.fate ?? "") })),
    put_off: /** @type {Set<string>} */ (new Set()),
    said: not_yets(day, taps, skew),
  };
  // Another tab may have sent a tap since this day came from the desk.
  const waiting = taps.filter((tap) => tap.sitting === day.sitting && (tap.fate === "kept" || (tap.fate === "stored" && tap.heard > arrived)));
  const taken_back = new Set(waiting.filter((tap) => tap.kind === "undo").map((tap) => tap.of));
  for (const done of now.done) {
    if (taken_back.has(done.tap)) done.say += ", taken back";
  }
  for (const tap of waiting) {
    if (tap.kind === "undo" || taken_back.has(tap.id)) continue;
    const at = tap.at + skew;
    const step = now.steps.find((each) => each.id === tap.step);
    if (step) apply(now, step, tap.kind, at);
    now.done.unshift({ tap: tap.id, step: tap.step, say: tap.say, at: hour(at, day.offset_minutes), device: "", fate: tap.fate });
  }
  return now;
}

/** Steps of which "not yet" was the last thing said here, and when. @param {Day} day @param {Tap[]} taps @param {number} skew */
function not_yets(day, taps, skew) {
  /** @type {Map<string, number>} */
  const said = new Map();
  const back = new Set(taps.filter((tap) => tap.kind === "undo").map((tap) => tap.of));
  for (const tap of taps) {
    if (tap.sitting !== day.sitting || tap.kind === "undo" || tap.fate === "refused" || back.has(tap.id)) continue;
    if (tap.kind === "not yet") said.set(tap.step, tap.at + skew);
    else said.delete(tap.step);
  }
  return said;
}

/** @param {Standing} now @param {Step} step @param {Kind} kind @param {number} at */
function apply(now, step, kind, at) {
  const board = now.boards.find((each) => each.number === step.board);
  const pot = now.pots.find((each) => each.letter === step.pot);
  if (kind === "not yet") {
    now.put_off.add(step.id);
    return;
  }
  if (kind === "spoilt") {
    // A board that is spoilt gets no more coats. What becomes of a spoilt pot is for the desk to say.
    if (step.board === null) {
      now.put_off.add(step.id);
    } else {
      now.steps = now.steps.filter((each) => each.board !== step.board);
      if (board) Object.assign(board, { state: "spoilt", matt_ms: null, hard_ms: null, words: "spoilt" });
    }
    return;
  }
  now.steps = now.steps.filter((each) => each.id !== step.id);
  const next = now.steps.filter((each) => each.after === step.id);
  for (const each of next) {
    each.after = null;
    const [short, usual, long] = each.wait_min;
    each.opens_ms = long > 0 ? [at + short * MINUTE, at + usual * MINUTE, at + long * MINUTE] : null;
  }
  if (step.kind === "mix" && pot && pot.ready_ms === null) {
    pot.ready_ms = at;
    pot.words = "";
  }
  if (step.kind === "lay" && board) {
    const over = next.find((each) => each.board === step.board);
    Object.assign(board, { coats: board.coats + 1, state: "wet", matt_ms: over?.opens_ms ?? null, hard_ms: null, words: "" });
    if (pot) pot.left = Math.max(0, pot.left - 1);
  }
}

/** Whether a step may begin: nothing stands before it, its wait may be over, and nobody just said "not yet"; washing up comes last. @param {Step} step @param {number} ms @param {Standing} now */
export function open(step, ms, now) {
  if (step.kind === "wash" && now.steps.length > 1) return false;
  return step.after === null && !now.put_off.has(step.id) && (step.opens_ms === null || ms >= step.opens_ms[0]);
}

/** The one thing to do. @param {Standing} now @param {string} chosen step that a person wants to take first @param {number} ms the desk's clock @returns {Step | undefined} */
export function one(now, chosen, ms) {
  const free = now.steps.filter((step) => step.after === null);
  // The desk puts them in the best order; only "not yet" sends one back, as long as another can be done.
  return (
    free.find((step) => step.id === chosen) ??
    free.find((step) => !now.put_off.has(step.id) || !free.some((other) => open(other, ms, now))) ??
    now.steps[0]
  );
}

/** What a step waits for; empty if it may begin. The words of `show::wait_words`. @param {Step} step @param {Board | undefined} board @param {number} ms @param {number} offset */
export function waits(step, board, ms, offset) {
  if (!step.opens_ms || ms >= step.opens_ms[2]) return "";
  const [short, , long] = step.opens_ms;
  const begun = ms >= short;
  const span = `about ${hour(short, offset)} to ${hour(long, offset)}`;
  if (board && board.coats > 0) {
    return `Board ${spoken(board.number)} may be matt ${begun ? `now; surely by ${hour(long, offset)}` : span}. Touch it with the back of a finger.`;
  }
  return `${board ? `Board ${spoken(board.number)}` : "It"} may be ready ${begun ? "now" : span}.`;
}

/** How long until then, or since, as a clock on the wall would be read. @param {number} ms */
export function until(ms) {
  const seconds = Math.round(Math.abs(ms) / 1000);
  if (seconds < 100) return `${seconds} s`;
  const minutes = Math.round(seconds / 60);
  return minutes < 100 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
}

/** How a board lies at this moment. @param {Board} board @param {number} ms */
export function lies(board, ms) {
  if (board.matt_ms === null || board.state === "spoilt" || board.state === "bare") return board.state;
  if (board.hard_ms !== null && ms >= board.hard_ms) return "hard";
  if (ms >= board.matt_ms[2]) return "matt";
  return ms >= board.matt_ms[0] ? "perhaps" : "wet";
}

/** @param {Board} board @param {number} ms @param {number} offset */
export function board_words(board, ms, offset) {
  const state = lies(board, ms);
  // The desk's words hold until a clock has moved the board on.
  if (state === board.state && board.words) return board.words;
  if (state === "perhaps" && board.matt_ms) return `perhaps matt; surely by ${hour(board.matt_ms[2], offset)}`;
  if (state === "wet" && board.matt_ms) return `wet; matt about ${hour(board.matt_ms[0], offset)} to ${hour(board.matt_ms[2], offset)}`;
  if (state === "hard") return "hard: the next coat may not hold on it well";
  return state;
}

/** @param {number} ms */
function lasting(ms) {
  const minutes = Math.max(0, Math.floor(ms / MINUTE));
  if (minutes < 60) return minutes === 1 ? "1 minute" : `${minutes} minutes`;
  return minutes % 60 ? `${Math.floor(minutes / 60)}\u00a0h ${minutes % 60}\u00a0min` : `${minutes / 60}\u00a0h`;
}

/** @param {Pot} pot @param {number} ms */
export function pot_words(pot, ms) {
  if (pot.ready_ms === null) return pot.words || "not mixed yet";
  const age = `${lasting(ms - pot.ready_ms)} old`;
  if (!pot.old_ms) return age;
  const [maybe, surely] = pot.old_ms;
  if (ms >= surely) return `${age}: too old, mix it anew`;
  if (ms >= maybe) return `${age}; may be too old already; at most another ${lasting(surely - ms)}`;
  return `${age}; good for another ${lasting(maybe - ms)} to ${lasting(surely - ms)}`;
}

/** @param {number} coats */
export function left(coats) {
  if (coats === 0) return "No coat is left to lay from it.";
  return coats === 1 ? "One coat is left to lay from it." : `${coats} coats are left to lay from it.`;
}
