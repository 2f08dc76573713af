// @ts-check
// The answer while typing or tapping: each change sends the newest text once the last answer is back, so that typing never waits.

/** @param {HTMLFormElement} form @param {HTMLElement} target */
function follow(form, target) {
  const address = form.dataset.live;
  if (!address) return;
  let waiting = false;
  let again = false;

  async function send() {
    if (waiting) {
      again = true;
      return;
    }
    waiting = true;
    again = false;
    try {
      const fields = new URLSearchParams();
      for (const [name, value] of new FormData(form)) fields.append(name, String(value));
      const answer = await fetch(/** @type {string} */ (address), { method: "POST", body: fields });
      if (answer.ok) {
        const held = document.activeElement;
        const [name, value] = held instanceof HTMLInputElement && target.contains(held) ? [held.name, held.value] : [];
        target.innerHTML = await answer.text();
        mark(form, target);
        if (name) refocus(target, name, value);
      }
    } catch {
      // The program was stopped; the button still says so when it is pressed.
    } finally {
      waiting = false;
      if (again) send();
    }
  }

  // Questions stand outside the form that they belong to, so the whole page is listened to.
  document.addEventListener("input", (event) => {
    const input = event.target;
    const owner = input instanceof HTMLInputElement || input instanceof HTMLTextAreaElement || input instanceof HTMLSelectElement ? input.form : null;
    if (owner === form) send();
  });
  // Text that the browser kept from before a reload.
  const box = form.querySelector("textarea");
  if (form.querySelector("[autofocus]") && box instanceof HTMLTextAreaElement && box.value.trim() !== "") send();
}

/** Puts the cursor back on the answer that was just tapped. @param {HTMLElement} target @param {string} name @param {string | undefined} value */
function refocus(target, name, value) {
  for (const input of target.querySelectorAll("input")) {
    if (input.name === name && input.value === value) input.focus();
  }
}

/** Marks the question that would tell most now. @param {HTMLFormElement} form @param {HTMLElement} target */
function mark(form, target) {
  const said = target.querySelector("[data-next]");
  const next = said instanceof HTMLElement ? said.dataset.next : undefined;
  for (const question of form.querySelectorAll("[data-key]")) {
    if (question instanceof HTMLElement) question.classList.toggle("next", question.dataset.key === next);
  }
}

for (const form of document.querySelectorAll("form[data-live]")) {
  const target = document.getElementById("verdict");
  if (form instanceof HTMLFormElement && target) follow(form, target);
}

// A page about something that others change: it is opened anew when there is news.
const about = document.querySelector("[data-news]");
if (about instanceof HTMLElement && about.dataset.news !== "closed") {
  const look = async () => {
    try {
      const answer = await fetch("/share/news");
      if (answer.ok && (await answer.text()) !== about.dataset.news) {
        location.reload();
        return;
      }
    } catch {
      // The program was stopped.
    }
    setTimeout(look, 1500);
  };
  setTimeout(look, 700);
}
