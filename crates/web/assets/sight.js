// @ts-check
// The photo under the hand: nearer and further, its corners moved, false cracks rubbed out and missed ones drawn in.
// The fields of the forms stay the only place where corners and strokes are kept; what is drawn follows them.

/** @typedef {[number, number]} Place a place of the photo in its own pixels, or a share of the window */

/** How near the photo may come. */
const NEAREST = 16;
/** Half the width of the rubber, in pixels of the screen. */
const RUBBER = 12;
/** No two places of a stroke lie nearer to each other, in pixels of the photo. */
const APART = 2;
/** A finger that moved less than this has tapped, in pixels of the screen. */
const TREMBLE = 6;
/** Two taps within so many milliseconds are a double one. */
const TWICE = 350;
const CORNERS = ["top left", "top right", "bottom right", "bottom left"];

/** @param {number} value */
const tenth = (value) => String(Math.round(value * 10) / 10);
/** @param {Place[]} places */
const text_of = (places) => places.map(([x, y]) => `${tenth(x)},${tenth(y)}`).join(";");
/** @param {Place} a @param {Place} b */
const far = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1]);
/** @param {number} value @param {number} low @param {number} high */
const held = (value, low, high) => Math.min(Math.max(value, low), high);

/** @param {string} text @returns {Place[] | undefined} nothing where it can't be read */
function places_of(text) {
  const all = text.split(";").map((pair) => pair.split(",").map((part) => (part.trim() === "" ? NaN : Number(part))));
  return all.every((pair) => pair.length === 2 && pair.every(Number.isFinite)) ? all.map(([x = 0, y = 0]) => [x, y]) : undefined;
}

/** @param {HTMLElement} sight */
function begin(sight) {
  const view = sight.querySelector(".sight-view");
  const sheet = sight.querySelector(".sight-sheet");
  const image = sight.querySelector("img");
  const over = sight.querySelector("svg");
  const tools = sight.querySelector(".sight-tools");
  if (!(view instanceof HTMLElement && sheet instanceof HTMLElement && image && over && tools instanceof HTMLElement)) return;
  // A photo that was never measured tells its size itself.
  if (!over.hasAttribute("viewBox")) over.setAttribute("viewBox", `0 0 ${image.naturalWidth} ${image.naturalHeight}`);
  const { width, height } = over.viewBox.baseVal;
  if (!width || !height) return;
  tools.hidden = false;
  sight.classList.add("at-hand");
  view.style.aspectRatio = `${width} / ${height}`;
  sight.style.setProperty("--ratio", String(width / height));

  // How near, and where the sheet's upper left corner lies as shares of the window: nothing is to be done when the screen turns.
  let near = 1;
  let left = 0;
  let top = 0;
  /** @type {(() => void)[]} */
  const followers = [];

  const lay = () => {
    left = held(left, 1 - near, 0);
    top = held(top, 1 - near, 0);
    sheet.style.width = `${near * 100}%`;
    sheet.style.left = `${left * 100}%`;
    sheet.style.top = `${top * 100}%`;
    view.classList.toggle("nearer", near > 1);
    for (const follow of followers) follow();
  };

  /** @param {number} times @param {Place} [share] what stays where it is */
  const zoom = (times, [x, y] = /** @type {Place} */ ([0.5, 0.5])) => {
    const next = held(near * times, 1, NEAREST);
    left = x - ((x - left) * next) / near;
    top = y - ((y - top) * next) / near;
    near = next < 1.02 ? 1 : next;
    lay();
  };

  /** @param {{ clientX: number, clientY: number }} at @returns {Place} */
  const share_of = (at) => {
    const box = view.getBoundingClientRect();
    return [(at.clientX - box.left) / box.width, (at.clientY - box.top) / box.height];
  };
  /** @param {{ clientX: number, clientY: number }} at @returns {Place} */
  const place_of = (at) => {
    const [x, y] = share_of(at);
    return [held(((x - left) / near) * width, 0, width), held(((y - top) / near) * height, 0, height)];
  };
  /** Pixels of the photo for one of the screen. */
  const per_screen = () => width / (view.clientWidth * near);

  const strokes = hand(sight, over, per_screen);
  corners(sight, over, [width, height], {
    place_of,
    shares: ([x, y]) => [(x / width) * near + left, (y / height) * near + top],
    follow: (again) => followers.push(again),
    show: ([x, y]) => {
      left = 0.5 - (x / width) * near;
      top = 0.5 - (y / height) * near;
      lay();
    },
  });

  /** Fingers and pens that lie on the photo. @type {Map<number, Place>} */
  const down = new Map();
  view.addEventListener("pointerdown", (event) => {
    if (event.button !== 0) return;
    down.set(event.pointerId, share_of(event));
    if (down.size > 1) return strokes.drop();
    if (!strokes.tool() && near === 1) return;
    view.setPointerCapture(event.pointerId);
    strokes.start(place_of(event));
  });
  view.addEventListener("pointermove", (event) => {
    const before = down.get(event.pointerId);
    if (!before) return;
    const now = share_of(event);
    const other = [...down].find(([id]) => id !== event.pointerId)?.[1];
    down.set(event.pointerId, now);
    if (other) {
      const box = view.getBoundingClientRect();
      const apart = (/** @type {Place} */ one) => Math.hypot((one[0] - other[0]) * box.width, (one[1] - other[1]) * box.height);
      left += (now[0] - before[0]) / 2;
      top += (now[1] - before[1]) / 2;
      zoom(apart(now) / Math.max(apart(before), 1), [(now[0] + other[0]) / 2, (now[1] + other[1]) / 2]);
    } else if (strokes.tool()) {
      strokes.go(place_of(event));
    } else if (near > 1) {
      left += now[0] - before[0];
      top += now[1] - before[1];
      lay();
    }
  });
  view.addEventListener("pointerup", (event) => {
    if (down.delete(event.pointerId) && down.size === 0) strokes.end(event.timeStamp);
  });
  view.addEventListener("pointercancel", (event) => {
    down.delete(event.pointerId);
    strokes.drop();
  });
  // The browser would take the picture along.
  image.draggable = false;
  view.addEventListener(
    "wheel",
    (event) => {
      // Fully out, the wheel is the page's own.
      if (!event.ctrlKey && near === 1) return;
      event.preventDefault();
      zoom(Math.exp(-event.deltaY * (event.ctrlKey ? 0.01 : 0.0015)), share_of(event));
    },
    { passive: false },
  );
  /** @type {Record<string, () => void>} */
  const keys = {
    "+": () => zoom(1.5),
    "-": () => zoom(1 / 1.5),
    ArrowLeft: () => { left += 0.1; lay(); },
    ArrowRight: () => { left -= 0.1; lay(); },
    ArrowUp: () => { top += 0.1; lay(); },
    ArrowDown: () => { top -= 0.1; lay(); },
    Enter: () => strokes.finish(),
    Escape: () => strokes.drop(),
  };
  view.tabIndex = 0;
  view.setAttribute("role", "group");
  view.setAttribute("aria-label", "The photo. Plus and minus bring it nearer and further, arrow keys move it.");
  view.addEventListener("keydown", (event) => {
    const act = keys[event.key];
    if (!act || event.ctrlKey || event.metaKey || event.altKey || (near === 1 && event.key.startsWith("Arrow"))) return;
    event.preventDefault();
    act();
  });
  sight.querySelector("[data-zoom=in]")?.addEventListener("click", () => zoom(1.5));
  sight.querySelector("[data-zoom=out]")?.addEventListener("click", () => zoom(1 / 1.5));
  const shown = sight.querySelector("[data-cracks]");
  shown?.addEventListener("change", () => {
    over.classList.toggle("bare", shown instanceof HTMLInputElement && !shown.checked);
  });
  lay();
}

/** @param {SVGElement} group @param {string} points @param {string} name */
function line(group, points, name) {
  const made = document.createElementNS("http://www.w3.org/2000/svg", "polyline");
  made.setAttribute("points", points);
  made.setAttribute("class", name);
  group.append(made);
  return made;
}

/**
 * Four handles at the corners of the board, outside of the drawing that is hidden from screen readers.
 * @param {HTMLElement} sight @param {SVGSVGElement} over @param {Place} size of the photo
 * @param {{ place_of: (at: PointerEvent) => Place, shares: (place: Place) => Place, follow: (again: () => void) => void, show: (place: Place) => void }} window
 */
function corners(sight, over, [width, height], window) {
  const form = document.querySelector("form.measure");
  const field = form?.querySelector("input[name=corners]");
  const fold = form?.closest("details");
  const group = over.querySelector(".sight-corners");
  const frame = sight.querySelector(".sight-frame");
  if (!(field instanceof HTMLInputElement && fold && group instanceof SVGElement && frame)) return;
  /** @param {string} text */
  const four = (text) => {
    const read = places_of(text);
    return read?.length === 4 ? read : undefined;
  };
  const [w, h] = [width, height];
  /** @type {Place[]} */
  const inside = [[0.1 * w, 0.1 * h], [0.9 * w, 0.1 * h], [0.9 * w, 0.9 * h], [0.1 * w, 0.9 * h]];
  const found = four(sight.dataset.corners ?? "") ?? inside;
  let all = four(field.value) ?? found;
  const rim = line(group, "", "outline-under");
  const dashes = line(group, "", "outline");

  /** @param {number} at @param {Place} place */
  const move = (at, [x, y]) => {
    all = all.map((old, other) => (other === at ? [held(x, 0, width), held(y, 0, height)] : old));
    field.value = text_of(all);
    draw();
  };
  const handles = CORNERS.map((name, at) => {
    const handle = document.createElement("button");
    handle.type = "button";
    handle.className = "corner";
    frame.append(handle);
    handle.addEventListener("pointerdown", (event) => {
      if (event.button !== 0) return;
      handle.setPointerCapture(event.pointerId);
      const [x, y] = window.place_of(event);
      const [cx, cy] = all[at] ?? [x, y];
      // A finger takes the handle where it touches it, not by its middle.
      const go = (/** @type {PointerEvent} */ next) => {
        const [nx, ny] = window.place_of(next);
        move(at, [nx + cx - x, ny + cy - y]);
      };
      const end = () => {
        handle.removeEventListener("pointermove", go);
        handle.removeEventListener("pointerup", end);
        handle.removeEventListener("pointercancel", end);
      };
      handle.addEventListener("pointermove", go);
      handle.addEventListener("pointerup", end);
      handle.addEventListener("pointercancel", end);
    });
    handle.addEventListener("keydown", (event) => {
      const step = event.shiftKey ? 10 : 1;
      const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
      const place = all[at];
      if (!way || !place) return;
      event.preventDefault();
      move(at, [place[0] + (way[0] ?? 0) * step, place[1] + (way[1] ?? 0) * step]);
      if (handle.classList.contains("away")) window.show(all[at] ?? place);
    });
    handle.addEventListener("focus", () => {
      if (handle.classList.contains("away")) window.show(all[at] ?? [0, 0]);
    });
    handle.setAttribute("aria-label", `Corner ${name}`);
    return handle;
  });

  const draw = () => {
    const open = fold.open;
    const points = [...all, ...all.slice(0, 1)].map((place) => place.join(",")).join(" ");
    for (const outline of [rim, dashes]) outline.setAttribute("points", open ? points : "");
    handles.forEach((handle, at) => {
      const place = all[at] ?? [0, 0];
      const [x, y] = window.shares(place);
      handle.hidden = !open;
      handle.classList.toggle("away", x < -0.001 || x > 1.001 || y < -0.001 || y > 1.001);
      handle.style.left = `${held(x, 0, 1) * 100}%`;
      handle.style.top = `${held(y, 0, 1) * 100}%`;
      handle.title = `${Math.round(place[0])} across, ${Math.round(place[1])} down, in pixels of the photo; arrow keys move it`;
    });
  };
  field.addEventListener("input", () => {
    all = field.value.trim() === "" ? found : (four(field.value) ?? all);
    draw();
  });
  fold.addEventListener("toggle", draw);
  window.follow(draw);
}

/**
 * The hand with the rubber or the pencil. Without the form nothing is drawn.
 * @param {HTMLElement} sight @param {SVGSVGElement} over @param {() => number} per_screen pixels of the photo for one of the screen
 */
function hand(sight, over, per_screen) {
  const form = document.querySelector(".put-right form");
  const group = over.querySelector(".sight-strokes");
  const rubbed = form?.querySelector("textarea[name=rubbed]");
  const drawn = form?.querySelector("textarea[name=drawn]");
  const undo = form?.querySelector("[data-undo]");
  /** @type {Place[]} */
  let path = [];
  /** Places of a crack that is drawn tap by tap. @type {Place[]} */
  let taps = [];
  let last = { at: 0, place: /** @type {Place} */ ([0, 0]) };
  const nothing = { tool: () => "", start: (/** @type {Place} */ _) => {}, go: (/** @type {Place} */ _) => {}, end: (/** @type {number} */ _) => {}, drop: () => {}, finish: () => {} };
  if (!(form instanceof HTMLFormElement && group instanceof SVGElement)) return nothing;
  if (!(rubbed instanceof HTMLTextAreaElement && drawn instanceof HTMLTextAreaElement && undo instanceof HTMLButtonElement)) return nothing;
  /** @param {HTMLTextAreaElement} field */
  const lines = (field) => field.value.split("\n").filter((each) => each.trim() !== "");
  /** Which field each stroke went into, the newest last. */
  const order = [...lines(rubbed).map(() => rubbed), ...lines(drawn).map(() => drawn)];
  const tool = () => {
    const value = form.closest("details")?.open ? new FormData(form).get("tool") : "";
    return typeof value === "string" ? value : "";
  };
  const radius = () => Math.max(RUBBER * per_screen(), 0.5);

  /** @param {string} points @param {number} wide */
  const band = (points, wide) => {
    line(group, points, "rubbed").setAttribute("stroke-width", String(2 * wide));
    line(group, points, "rubbed-middle");
  };
  const draw = () => {
    group.replaceChildren();
    /** @param {Place[]} places */
    const points = (places) => [...places, ...(places.length === 1 ? places : [])].map((place) => place.join(",")).join(" ");
    for (const each of lines(rubbed)) {
      const [wide = "", along = ""] = each.split(":");
      const places = places_of(along);
      if (places && Number(wide) > 0) band(points(places), Number(wide));
    }
    const pencil = lines(drawn).map(places_of);
    const now = tool() === "draw" ? [taps, path] : [taps];
    for (const places of [...pencil, ...now]) {
      if (!places?.length) continue;
      line(group, points(places), "drawn-under");
      line(group, points(places), "drawn");
    }
    if (tool() === "rub" && path.length) band(points(path), radius());
    sight.dataset.tool = tool();
  };
  /** @param {HTMLTextAreaElement} field @param {string} stroke */
  const add = (field, stroke) => {
    field.value = [...lines(field), stroke].join("\n");
    order.push(field);
  };
  const drop = () => {
    path = [];
    taps = [];
    draw();
  };
  const finish = () => {
    if (taps.length > 1) add(drawn, text_of(taps));
    drop();
  };
  // By the hand it is easier than by numbers.
  for (const fold of form.querySelectorAll("details")) fold.open = false;
  for (const needs of form.querySelectorAll("[hidden]")) if (needs instanceof HTMLElement) needs.hidden = false;
  undo.addEventListener("click", () => {
    if (taps.length) taps.pop();
    else {
      const field = order.pop() ?? (lines(drawn).length ? drawn : rubbed);
      field.value = lines(field).slice(0, -1).join("\n");
    }
    draw();
  });
  for (const field of [rubbed, drawn]) field.addEventListener("input", draw);
  form.addEventListener("change", () => (tool() === "draw" ? draw() : finish()));
  form.closest("details")?.addEventListener("toggle", draw);
  form.addEventListener("submit", finish);
  draw();
  return {
    tool,
    drop,
    finish,
    /** @param {Place} place */
    start(place) {
      path = tool() ? [place] : [];
      draw();
    },
    /** @param {Place} place */
    go(place) {
      const end = path.at(-1);
      if (!end || far(end, place) < Math.max(APART, per_screen())) return;
      path.push(place);
      draw();
    },
    /** @param {number} at milliseconds */
    end(at) {
      const [first] = path;
      if (!first) return;
      const still = path.every((place) => far(first, place) < TREMBLE * per_screen());
      if (tool() === "rub") {
        add(rubbed, `${tenth(radius())}:${text_of(still ? [first] : path)}`);
      } else if (!still) {
        const stroke = path;
        finish();
        add(drawn, text_of(stroke));
      } else {
        const twice = at - last.at < TWICE && far(last.place, first) < 2 * TREMBLE * per_screen();
        if (!twice) taps.push(first);
        last = { at, place: first };
        if (twice) finish();
      }
      path = [];
      draw();
    },
  };
}

const sight = document.querySelector(".sight");
const photo = sight?.querySelector("img");
if (sight instanceof HTMLElement && photo) photo.decode().then(() => begin(sight), () => {});
