// @ts-check
/**
 * What the script adds to pages that work without it: lines go through a queue that survives a
 * lost connection, news of the others come in by themselves, and a page is never left for one
 * that does not come.
 */

import { Ear } from "./ear.js";
import { letterOf, Queue } from "./queue.js";
import { Pages } from "./pages.js";
import { Shown } from "./shown.js";

/** Milliseconds in which the same line from the same key is one press by a shaky thumb. */
const ONE_PRESS = 700;

async function start() {
  // A phone that is not let in yet, or a line to mend: nothing to hear there.
  if (!document.querySelector("main[data-job]")) return;
  const queue = await Queue.open();
  const pages = new Pages();
  const shown = new Shown(queue);
  const ear = new Ear(() => pages.number);

  queue.changed = () => shown.queue();
  queue.kept = (_letter, report) => shown.said(report);
  // An answer that never came is waited for less once the bench is heard again.
  ear.heard = () => queue.send();
  ear.entry = (entry) => pages.behind(entry.number);
  ear.last = (number) => number < pages.number && pages.again();
  ear.anew = () => pages.again();
  ear.answer = () => pages.answered();
  ear.hands = (hands) => {
    shown.hands(hands.filter(({ who }) => who !== pages.who));
    pages.hands(hands);
  };
  pages.drawn = () => shown.queue();
  pages.lost = () => shown.lost();

  let pressed = { at: -ONE_PRESS, says: "" };
  document.addEventListener("submit", async (event) => {
    const form = /** @type {HTMLFormElement} */ (event.target);
    if (event.defaultPrevented || !form.matches("[data-entry]")) return;
    const who = pages.who;
    if (!who) return;
    event.preventDefault();
    const letter = letterOf(form, event.submitter, { who, job: pages.job });
    const again = event.timeStamp - pressed.at < ONE_PRESS && pressed.says === letter.says;
    if (again) return;
    pressed = { at: event.timeStamp, says: letter.says };
    await queue.add(letter);
    form.reset();
    queue.send();
  });

  document.addEventListener("click", (event) => {
    const target = /** @type {Element} */ (event.target);
    const button = /** @type {HTMLButtonElement | null} */ (target.closest("button[data-take]"));
    if (!button?.form || !pages.who) return;
    event.preventDefault();
    take(button.form, button, (says) => shown.says(says));
  });

  addEventListener("beforeunload", (event) => {
    if (queue.unsent > 0) event.preventDefault();
  });
  for (const wake of ["online", "pageshow", "focus"]) addEventListener(wake, () => queue.send());
  document.addEventListener("visibilitychange", () => {
    if (document.hidden) return ear.close();
    ear.open();
    queue.send();
  });

  await shown.queue();
  ear.open();
  queue.send();
}

/**
 * Takes a thing in hand, or lays it down. It is told while it is so and not kept; somebody else
 * may have it already.
 * @param {HTMLFormElement} form
 * @param {HTMLButtonElement} button
 * @param {(says: string) => void} tell
 */
async function take(form, button, tell) {
  try {
    const said = /** @type {[string, string][]} */ ([...new FormData(form, button)]);
    const body = new URLSearchParams(said);
    const answer = await fetch("/hand", { method: "POST", body, headers: { accept: "application/json" } });
    tell(answer.ok ? "" : await answer.text());
  } catch {
    tell("No connection: the others do not hear of it. You can go on.");
  }
}

// Without a database of its own a browser sends forms itself, as it does without script.
start().catch((fault) => console.warn("matchmark: pages without queue:", fault));
