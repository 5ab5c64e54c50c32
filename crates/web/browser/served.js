// A job in a folder of its own, and the program that serves it; it can be killed and started
// again on the same port.

import { spawn, execFileSync } from "node:child_process";
import { once } from "node:events";
import { request as ask } from "node:http";
import { cpSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { fileURLToPath } from "node:url";

const ROOT = fileURLToPath(new URL("../../../", import.meta.url));
const TARGET = process.env.CARGO_TARGET_DIR ?? join(ROOT, "target");
const PROGRAM = process.env.MATCHMARK ?? join(TARGET, "debug", "matchmark");
const DEMO = join(ROOT, "crates/app/demo");

/** Where pictures of pages are left for people to look at. */
export const PICTURES = join(TARGET, "pages");

/** The name the pages have here: plain http on a name is what a phone in the workshop has. */
export const NAME = "bench.test";

/**
 * One typed line of the demo's life.
 * @typedef {{who: string, line: string}} Line
 */

/**
 * The typed lines of some chapters of the demo's life.
 * @param {...string} chapters
 * @returns {Line[]}
 */
export function life(...chapters) {
  return chapters.flatMap((chapter) =>
    readFileSync(join(DEMO, chapter), "utf8")
      .split("\n")
      .map((line) => /^\d\d:\d\d (\S+) \| (.*)$/.exec(line))
      .flatMap((found) => (found ? [{ who: found[1], line: found[2].trim() }] : [])),
  );
}

export class Served {
  #port = 0;
  /** @type {import("node:child_process").ChildProcess | undefined} */
  #program;

  /** @param {string} folder */
  constructor(folder) {
    this.folder = folder;
  }

  /**
   * The demo's engine with some chapters of its life lived, served.
   * @param {...string} chapters
   */
  static async demo(...chapters) {
    const served = Served.nothing();
    const job = served.folder;
    run("new", job, "--from", join(DEMO, "post-van.kdl"));
    cpSync(join(DEMO, "shop.kdl"), join(job, "shop.kdl"));
    for (const { who, lines } of byPerson(life(...chapters))) served.log(who, ...lines);
    await served.start();
    return served;
  }

  /** A folder without a job, not served yet. */
  static nothing() {
    return new Served(mkdtempSync(join(tmpdir(), "matchmark-pages-")));
  }

  /** The address of the pages. */
  get address() {
    return `http://${NAME}:${this.#port}`;
  }

  /**
   * Starts the program; the first line it says is where the pages are.
   * @param {...string} options
   */
  async start(...options) {
    const program = spawn(
      PROGRAM,
      ["serve", "--job", this.folder, "--port", `${this.#port}`, "--name", NAME, ...options],
      { stdio: ["ignore", "pipe", "inherit"], env: { ...process.env, MATCHMARK_WHO: "keeper" } },
    );
    this.#program = program;
    const lines = createInterface({ input: /** @type {import("node:stream").Readable} */ (program.stdout) });
    const [first] = await once(lines, "line", { signal: AbortSignal.timeout(30_000) });
    this.#port = Number(new URL(first).port);
  }

  /** Pulls the plug: no farewell, nothing is written any more. */
  async kill() {
    const program = this.#program;
    if (!program || program.exitCode !== null || program.signalCode !== null) return;
    const gone = once(program, "exit");
    program.kill("SIGKILL");
    await gone;
  }

  /** The laptop on the shelf falls asleep: connections stay open and nobody answers. */
  sleep() {
    this.#program?.kill("SIGSTOP");
  }

  /** It wakes up. */
  wake() {
    this.#program?.kill("SIGCONT");
  }

  /** Ends the program and takes the folder away. */
  async end() {
    await this.kill();
    rmSync(this.folder, { recursive: true, force: true });
  }

  /**
   * Brings what a page sends to the program, and keeps the answer from the page.
   * @param {import("playwright-core").Request} sent
   */
  async deliver(sent) {
    const { pathname } = new URL(sent.url());
    const headers = { ...(await sent.allHeaders()), host: `${NAME}:${this.#port}` };
    const there = ask({ host: "127.0.0.1", port: this.#port, path: pathname, method: sent.method(), headers });
    there.end(sent.postDataBuffer());
    const [answer] = await once(there, "response");
    answer.resume();
    await once(answer, "end");
  }

  /**
   * A key of the pages.
   * @param {"write" | "look"} name
   */
  key(name) {
    const keys = readFileSync(join(this.folder, "keys"), "utf8");
    return new RegExp(`^${name} (.*)$`, "m").exec(keys)?.[1];
  }

  /**
   * Lays a copy of a job out in the folder.
   * @param {string} file
   */
  layOut(file) {
    run("new", this.folder, "--from", file);
  }

  /** Lays another job in the folder, as somebody does who begins anew. */
  begunAnew() {
    rmSync(this.folder, { recursive: true, force: true });
    run("new", this.folder, "--from", join(DEMO, "post-van.kdl"));
  }

  /**
   * Writes lines from the command line.
   * @param {string} who
   * @param {...string} lines
   */
  log(who, ...lines) {
    run.call({ MATCHMARK_WHO: who }, "log", "--job", this.folder, ...lines);
  }

  /**
   * What a command answers of the job.
   * @param {...string} command
   */
  ask(...command) {
    return JSON.parse(run(...command, "--job", this.folder, "--json"));
  }

  /** The record, oldest line first. @returns {Line[]} */
  record() {
    return this.ask("record").rows.map(
      (/** @type {{who: string, line: string}} */ { who, line }) => ({ who, line }),
    );
  }
}

/**
 * Runs the program and gives back what it printed. A status of 1 is an answer too.
 * @this {Record<string, string> | void}
 * @param {...string} words
 */
function run(...words) {
  try {
    const env = { ...process.env, ...(this ?? {}) };
    return execFileSync(PROGRAM, words, { encoding: "utf8", env, maxBuffer: 1 << 26 });
  } catch (fault) {
    const { status, stdout } = /** @type {{status: number, stdout: string}} */ (fault);
    if (status === 1) return stdout;
    throw fault;
  }
}

/**
 * Lines one after another by one person, together.
 * @param {Line[]} lines
 */
function byPerson(lines) {
  /** @type {{who: string, lines: string[]}[]} */
  const spells = [];
  for (const { who, line } of lines) {
    const last = spells.at(-1);
    if (last?.who === who) last.lines.push(line);
    else spells.push({ who, lines: [line] });
  }
  return spells;
}
