// @ts-check
/**
 * Says on the page what is under way: how many lines are not sent yet, what was answered, what
 * must be mended, what the others have in hand.
 */

/** @typedef {import("./queue.js").Letter} Letter */
/** @typedef {import("./queue.js").Report} Report */

export class Shown {
  #queue;

  /** @param {import("./queue.js").Queue} queue */
  constructor(queue) {
    this.#queue = queue;
  }

  /** What waits and what was refused. */
  async queue() {
    const letters = await this.#queue.all();
    const refused = letters.filter((letter) => letter.refused);
    const unsent = letters.length - refused.length;
    say("[data-unsent]", unsent === 0 ? "all sent" : `${unsent} not sent yet`);
    const held = document.querySelector("[data-held]");
    held?.replaceChildren(...letters.map((letter) => this.#letter(letter)));
  }

  /** @param {Report} report */
  said({ headline, findings }) {
    const found = findings.map(({ concerns, says, next }) =>
      [concerns && !says.startsWith(concerns) ? `${concerns}: ${says}` : says, next]
        .filter(Boolean)
        .join(" – "),
    );
    say("[data-said]", [headline, ...found].filter(Boolean).join(" "));
  }

  /** @param {string} words */
  says(words) {
    say("[data-said]", words);
  }

  /** A page did not come. */
  lost() {
    say("[data-said]", "No connection. This page stays as it is; what you write is kept here.");
  }

  /** @param {{who: string, what: string}[]} hands */
  hands(hands) {
    const told = hands.map(({ who, what }) => made("span", {}, `${who}: `, made("b", {}, what)));
    document.querySelector("[data-hands]")?.replaceChildren(...told);
  }

  /** @param {Letter} letter */
  #letter(letter) {
    const { n, refused, says } = letter;
    if (n === undefined || !refused) return made("li", {}, says, made("small", {}, " – waits"));
    const mend = made("button", { type: "button" }, "Mend it");
    const leave = made("button", { type: "button" }, "Leave it out");
    mend.addEventListener("click", async () => {
      const input = /** @type {HTMLInputElement | null} */ (document.querySelector(".line [name=line]"));
      if (!input) return;
      input.value = says;
      input.focus();
      await this.#queue.drop(n);
    });
    leave.addEventListener("click", () => this.#queue.drop(n));
    return made("li", {}, made("b", {}, says), made("p", {}, refused), mend, leave);
  }
}

/**
 * @param {string} where
 * @param {string} words
 */
function say(where, words) {
  const place = document.querySelector(where);
  // Said again, a screen reader would read it again.
  if (place && place.textContent !== words) place.textContent = words;
}

/**
 * @param {string} name
 * @param {Record<string, string>} attributes
 * @param {...(Node | string)} children
 */
function made(name, attributes, ...children) {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  element.append(...children);
  return element;
}
