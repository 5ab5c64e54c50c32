// @ts-check
/**
 * What is understood of a line, told while it is typed; and the slate's clock. Both only tell:
 * nothing is kept, and pages work without them.
 */

/** Milliseconds without a key after which a line is read. */
const PAUSE = 250;

/** @type {ReturnType<typeof setTimeout> | undefined} */
let timer;

document.addEventListener("input", (event) => {
  const field = /** @type {HTMLInputElement} */ (event.target);
  const form = field.closest("form[data-reads]");
  if (!form || field.name !== "line") return;
  clearTimeout(timer);
  timer = setTimeout(() => read(form, field.value), PAUSE);
});

// A line that was kept is not read any more.
document.addEventListener("reset", (event) => {
  clearTimeout(timer);
  /** @type {Element} */ (event.target).querySelector("[data-understood]")?.replaceChildren();
});

/**
 * @param {Element} form
 * @param {string} line
 */
async function read(form, line) {
  const output = form.querySelector("[data-understood]");
  if (!output) return;
  if (!line.trim()) return output.replaceChildren();
  try {
    const address = `${form.getAttribute("data-reads")}?${new URLSearchParams({ line })}`;
    const { headline, findings } = await (await fetch(address)).json();
    // Typed on, or kept meanwhile: this answer is to a line that is not there any more.
    if (/** @type {HTMLInputElement} */ (form.querySelector("[name=line]")).value !== line) return;
    const told = findings.map((/** @type {{says: string, next?: string}} */ one) =>
      [one.says, one.next].filter(Boolean).join(" – "),
    );
    output.replaceChildren(
      ...[headline, ...told].filter(Boolean).map((words, at) => {
        const p = document.createElement(at === 0 ? "b" : "p");
        p.textContent = words;
        return p;
      }),
    );
  } catch {
    output.textContent = "No connection: it is read when it is sent.";
  }
}

setInterval(() => {
  const clock = document.querySelector("time[data-clock]");
  if (!clock) return;
  const now = new Date();
  clock.setAttribute("datetime", now.toISOString());
  clock.textContent = now.toISOString().slice(11, 19);
}, 1000);
