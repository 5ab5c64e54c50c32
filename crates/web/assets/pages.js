// @ts-check
/**
 * Moves from page to page and draws a page anew, without ever leaving the one that is here for
 * one that does not come. What a person is filling in is not drawn over.
 */

/** Milliseconds in which several entries make one new drawing. */
const TOGETHER = 250;

/** What a person fills in. */
const FILLED = "input:not([type=hidden]), select, textarea";

export class Pages {
  /** Told after a page was drawn. */
  drawn = () => {};
  /** Told when a page did not come. */
  lost = () => {};

  /** What everybody has in hand, as far as it was heard. @type {string | undefined} */
  #hands;
  /** The last entry that is known to be in the record. */
  #known = 0;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #timer;

  constructor() {
    document.addEventListener("click", (event) => {
      const link = /** @type {Element} */ (event.target).closest("a");
      if (!link || !stays(link, event)) return;
      event.preventDefault();
      this.go(link.href);
    });
    addEventListener("popstate", () => this.#draw(location.href));
    // What was not drawn over is drawn once it is left.
    document.addEventListener("focusout", () => this.#soon());
  }

  /** The entry the page was drawn after. */
  get number() {
    return Number(main().dataset.number ?? 0);
  }

  /** Who is at this phone. */
  get who() {
    return main().dataset.who;
  }

  /** The job the page was drawn from. */
  get job() {
    return main().dataset.job ?? "";
  }

  /**
   * Draws the page anew if it is older than an entry.
   * @param {number} number
   */
  behind(number) {
    this.#known = Math.max(this.#known, number);
    this.#soon();
  }

  /** Draws the page anew if it waits for an answer that was found now. */
  answered() {
    this.#soon();
  }

  /**
   * Draws the page anew if it shows what people have in hand and that has changed.
   * @param {{who: string, what: string}[]} hands
   */
  hands(hands) {
    this.#hands = hands.map(({ who, what }) => `${who}: ${what}`).join("; ");
    this.#soon();
  }

  /** Draws the page anew from a record or a book that was begun anew. */
  again() {
    this.#known = 0;
    if (!isFilledIn()) this.#draw(location.href);
  }

  /**
   * Goes to another page.
   * @param {string} address
   */
  async go(address) {
    if (await this.#draw(address)) {
      scrollTo(0, 0);
      main().focus();
    }
  }

  #soon() {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => {
      const waits = main().querySelector("[data-waiting]");
      const drawn = main().querySelector("[data-in-hand]")?.getAttribute("data-in-hand");
      const moved = this.#hands !== undefined && drawn != null && drawn !== this.#hands;
      if ((waits || moved || this.#known > this.number) && !isFilledIn()) this.#draw(location.href);
    }, TOGETHER);
  }

  /** @param {string} address */
  async #draw(address) {
    try {
      const answer = await fetch(address, { headers: { accept: "text/html" } });
      if (!answer.headers.get("content-type")?.startsWith("text/html")) {
        location.href = address;
        return false;
      }
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      if (answer.url !== location.href) history.pushState(null, "", answer.url);
      put(page);
      this.drawn();
      return true;
    } catch {
      this.lost();
      return false;
    }
  }
}

/** @returns {HTMLElement} */
function main() {
  return /** @type {HTMLElement} */ (document.querySelector("main"));
}

/** Whether somebody is filling in something that a new drawing would lose. */
function isFilledIn() {
  const fields = /** @type {NodeListOf<HTMLInputElement>} */ (main().querySelectorAll(FILLED));
  return Array.from(fields).some(
    (field) =>
      field === document.activeElement ||
      field.value !== (field.defaultValue ?? field.value) ||
      field.checked !== (field.defaultChecked ?? field.checked),
  );
}

/**
 * Whether a press on a link leads to another of these pages in this very tab.
 * @param {HTMLAnchorElement} link
 * @param {MouseEvent} event
 */
function stays(link, event) {
  const plain = event.button === 0 && !event.ctrlKey && !event.metaKey && !event.shiftKey;
  const here = link.origin === location.origin && !link.target && !link.hasAttribute("download");
  const jump = link.pathname === location.pathname && link.hash !== "";
  return plain && here && !jump && !event.defaultPrevented;
}

/**
 * Puts a page in the place of the one that is here. The line at the thumb stays: somebody may
 * be typing in it.
 * @param {Document} page
 */
function put(page) {
  document.title = page.title;
  const open = [...document.querySelectorAll("main details[open] > summary")].map(words);
  const hand = document.activeElement;
  const held = hand && main().contains(hand) ? [hand.tagName, words(hand)] : null;
  for (const part of ["header.top", "main", "footer.line"]) {
    const old = document.querySelector(part);
    const fresh = page.querySelector(part);
    if (part === "footer.line" && old && fresh) putLine(old, fresh);
    else if (old && fresh) old.replaceWith(fresh);
    else if (fresh) document.body.append(fresh);
    else old?.remove();
  }
  for (const summary of document.querySelectorAll("main details > summary")) {
    if (open.includes(words(summary))) summary.parentElement?.setAttribute("open", "");
  }
  if (held) {
    // The same key in the new drawing, so that a keyboard does not lose its place.
    const same = [...main().querySelectorAll(held[0])].find((one) => words(one) === held[1]);
    /** @type {HTMLElement | undefined} */ (same)?.focus({ preventScroll: true });
  }
}

/**
 * The line of the new page asks what belongs there; one that somebody types in stays.
 * @param {Element} old
 * @param {Element} fresh
 */
function putLine(old, fresh) {
  const field = /** @type {HTMLInputElement | null} */ (old.querySelector("[name=line]"));
  const back = /** @type {HTMLInputElement | null} */ (old.querySelector("[name=back]"));
  if (back) back.value = `${location.pathname}${location.search}`;
  if (!field || field.value !== "" || field === document.activeElement) return;
  for (const part of [".held", ".said"]) {
    const told = old.querySelector(part);
    if (told) fresh.querySelector(part)?.replaceWith(told);
  }
  old.replaceWith(fresh);
}

/** @param {Element} element */
function words(element) {
  return element.id || element.textContent || "";
}
