// @ts-check
/**
 * Lines that were written and are not in the record yet.
 *
 * They lie in the database of the browser before the page says a word, so that a dead phone, a
 * closed page or a bench that was switched off loses none. Each has an id made here; sending
 * it twice keeps it once. They are sent in the order they were written.
 */

/**
 * @typedef {Object} Letter
 * @property {number} [n]        its place in the queue
 * @property {string} id         known to nobody else
 * @property {string} to         the address it goes to
 * @property {string} job        the job it was written for
 * @property {[string, string | Blob][]} fields  what was filled in
 * @property {string} says       what a person calls it
 * @property {string} [refused]  why it was not taken: a person must mend it
 */

/**
 * @typedef {Object} Report
 * @property {string | null} headline
 * @property {{concerns: string, says: string, next?: string | null}[]} findings
 */

/** Answers that will be the same the next time; a person must look. */
const FINAL = [400, 404, 409, 410, 413, 415, 422, 500];

/** Milliseconds to wait after a lost connection: at first, and at most. */
const SOON = 1_000;
const LATE = 20_000;

/** Milliseconds an answer may take: a line, or one with a photo. */
const PATIENCE = 15_000;
const PATIENCE_WITH_PHOTO = 180_000;

export class Queue {
  /** Told whenever something was added, sent or refused. */
  changed = () => {};
  /** Told when something is in the record. @type {(letter: Letter, report: Report) => void} */
  kept = () => {};
  /** How many wait to be sent. */
  unsent = 0;

  #database;
  #sending = false;
  #wait = SOON;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #timer;

  /** @param {IDBDatabase} database */
  constructor(database) {
    this.#database = database;
  }

  /** Opens the queue of this browser. */
  static async open() {
    const wish = indexedDB.open("matchmark", 1);
    wish.onupgradeneeded = () =>
      wish.result.createObjectStore("letters", { keyPath: "n", autoIncrement: true });
    const queue = new Queue(await done(wish));
    await queue.#count();
    return queue;
  }

  /**
   * Puts a letter in the queue. It is on disk when this returns.
   * @param {Letter} letter
   */
  async add(letter) {
    await this.#write((letters) => letters.add(letter));
  }

  /** Everything in the queue, oldest first. @returns {Promise<Letter[]>} */
  all() {
    return done(this.#database.transaction("letters").objectStore("letters").getAll());
  }

  /**
   * Takes a letter out of the queue.
   * @param {number} n
   */
  async drop(n) {
    await this.#write((letters) => letters.delete(n));
  }

  /** Sends what waits, one after another, until nothing waits or the connection is lost. */
  async send() {
    if (this.#sending) return;
    this.#sending = true;
    clearTimeout(this.#timer);
    try {
      for (;;) {
        const next = (await this.all()).find((letter) => !letter.refused);
        if (!next) break;
        if (!(await this.#sent(next))) {
          this.#timer = setTimeout(() => this.send(), this.#wait);
          this.#wait = Math.min(2 * this.#wait, LATE);
          break;
        }
        this.#wait = SOON;
      }
    } finally {
      this.#sending = false;
    }
  }

  /**
   * Whether a letter came to an end: kept, or refused for good.
   * @param {Letter} letter
   */
  async #sent(letter) {
    let answer;
    try {
      answer = await post(letter);
    } catch {
      return false;
    }
    const n = /** @type {number} */ (letter.n);
    if (answer.ok) {
      const report = await answer.json().catch(() => null);
      await this.drop(n);
      if (report) this.kept(letter, report);
      return true;
    }
    if (!FINAL.includes(answer.status)) return false;
    const refused = await reason(answer);
    await this.#write((letters) => letters.put({ ...letter, refused }));
    return true;
  }

  /** @param {(letters: IDBObjectStore) => void} change */
  async #write(change) {
    const act = this.#database.transaction("letters", "readwrite", { durability: "strict" });
    change(act.objectStore("letters"));
    await new Promise((resolve, reject) => {
      act.oncomplete = resolve;
      act.onabort = () => reject(act.error);
    });
    await this.#count();
    this.changed();
  }

  async #count() {
    this.unsent = (await this.all()).filter((letter) => !letter.refused).length;
  }
}

/**
 * A form as a letter.
 * @param {HTMLFormElement} form
 * @param {HTMLElement | null} submitter
 * @param {{who: string, job: string}} by
 * @returns {Letter}
 */
export function letterOf(form, submitter, { who, job }) {
  const filled = new FormData(form, submitter);
  for (const own of ["form", "back", "id", "at", "who"]) filled.delete(own);
  const id = fresh();
  if (filled.has("line")) put(filled);
  /** @type {[string, string | Blob][]} */
  const fields = [["id", id], ["at", `${Date.now()}`], ["who", who], ...filled];
  const says = form.dataset.says ?? `${filled.get("line") ?? form.action}`;
  return { id, to: new URL(form.action).pathname, job, fields, says };
}

/**
 * Puts what was filled in into the places of the line, as the bench does for a form without
 * script: `{name}`, `{name|-}` where nothing was, `{name? at }` with words before it.
 * @param {FormData} filled
 */
function put(filled) {
  const names = [...filled.keys()].filter((name) => name !== "line");
  const line = `${filled.get("line")}`.replace(/\{([^{}|?]+)(?:([|?])([^{}]*))?\}/g, (all, name, sign, more) => {
    if (!names.includes(name)) return all;
    const said = `${filled.get(name)}`.trim();
    if (said) return sign === "?" ? `${more}${said}` : said;
    return sign === "|" ? more : "";
  });
  for (const name of names) filled.delete(name);
  filled.set("line", line.trim());
}

/** An id nobody else makes. A page on plain http has no `randomUUID`. */
function fresh() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** @param {Letter} letter */
function post(letter) {
  const photo = letter.fields.some(([, value]) => value instanceof Blob);
  const body = photo ? new FormData() : new URLSearchParams();
  for (const [name, value] of letter.fields) {
    // A form of words takes no bytes, and none are among its fields.
    /** @type {FormData} */ (body).append(name, /** @type {string} */ (value));
  }
  return fetch(letter.to, {
    method: "POST",
    body,
    headers: { accept: "application/json", "matchmark-job": letter.job },
    signal: AbortSignal.timeout(photo ? PATIENCE_WITH_PHOTO : PATIENCE),
  });
}

/**
 * Why something was refused, in the words of the answer.
 * @param {Response} answer
 */
async function reason(answer) {
  if (answer.status === 410) return "it was written for another job";
  const text = await answer.text().catch(() => "");
  if (answer.headers.get("content-type")?.startsWith("text/html")) {
    const page = new DOMParser().parseFromString(text, "text/html");
    const says = page.querySelector("main p")?.textContent;
    if (says) return says;
  }
  try {
    /** @type {Report} */
    const report = JSON.parse(text);
    return report.findings.map(({ says, next }) => (next ? `${says} – ${next}` : says)).join("; ");
  } catch {
    return `the bench answered ${answer.status}`;
  }
}

/**
 * @template T
 * @param {IDBRequest<T>} wish
 * @returns {Promise<T>}
 */
function done(wish) {
  return new Promise((resolve, reject) => {
    wish.onsuccess = () => resolve(wish.result);
    wish.onerror = () => reject(wish.error);
  });
}
