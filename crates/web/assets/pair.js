// @ts-check
// The secret of the square code stands behind the # of the address, a part that browsers never send: it goes into the form and out of sight.

const field = document.querySelector("#secret");
const typed = document.querySelector("#typed");
if (field instanceof HTMLInputElement && typed instanceof HTMLElement && location.hash.length > 1) {
  field.value = location.hash.slice(1);
  typed.hidden = true;
  history.replaceState(null, "", location.pathname);
}

// Comes in by itself once the desk has answered.
const waiting = document.querySelector("form[data-asked]");
if (waiting instanceof HTMLFormElement) {
  const look = async () => {
    try {
      const answer = await fetch(waiting.dataset.asked ?? "");
      if (answer.ok && (await answer.text()) !== "wait") {
        waiting.requestSubmit();
        return;
      }
    } catch {
      // Out of reach for a moment; the button is still there.
    }
    setTimeout(look, 1500);
  };
  setTimeout(look, 700);
}
