// @ts-check
/**
 * Hears what happens on the bench. It asks for everything after the entry the page was drawn
 * after, so that a laptop that slept or a bench that was switched off leaves no hole.
 */

/** Milliseconds of silence after which the line is taken for dead: the bench ticks each 15 s. */
const SILENCE = 40_000;

/** Milliseconds until a broken line is opened anew. */
const AGAIN = 2_000;

export class Ear {
  /** Told at every word. */
  heard = () => {};
  /** Told of an entry. @type {(entry: {number: number, who: string, line: string}) => void} */
  entry = () => {};
  /** Told the number of the last entry there is. @type {(number: number) => void} */
  last = () => {};
  /** Told what everybody has in hand. @type {(hands: {who: string, what: string}[]) => void} */
  hands = () => {};

  /** Told that an answer which took its time was found. */
  answer = () => {};

  /** Told that book or workshop were read anew. */
  anew = () => {};

  /** @type {EventSource | undefined} */
  #line;
  #after;
  #spoke = 0;
  /** @type {ReturnType<typeof setInterval> | undefined} */
  #watch;

  /** @param {() => number} after says the last entry the page knows */
  constructor(after) {
    this.#after = after;
  }

  open() {
    this.close();
    this.#spoke = Date.now();
    const line = new EventSource(`/news?after=${this.#after()}`);
    this.#line = line;
    this.#on("entry", (data) => this.entry(data));
    this.#on("tick", (data) => this.last(data));
    this.#on("answer", () => this.answer());
    this.#on("anew", () => this.anew());
    this.#on("hands", (data) => this.hands(data));
    // A sleeping laptop wakes with a line that looks open and is dead.
    this.#watch = setInterval(() => {
      const broken = line.readyState === EventSource.CLOSED;
      if (broken || Date.now() - this.#spoke > SILENCE) this.open();
    }, AGAIN);
  }

  close() {
    clearInterval(this.#watch);
    this.#line?.close();
  }

  /**
   * @param {string} kind
   * @param {(data: any) => void} tell
   */
  #on(kind, tell) {
    this.#line?.addEventListener(kind, (event) => {
      this.#spoke = Date.now();
      tell(JSON.parse(/** @type {MessageEvent} */ (event).data));
      this.heard();
    });
  }
}
