// What was done at the bench and is not written down yet: kept in this browser, sent in its order, each piece under a key of its own.
const PATIENCE_MS = 15_000, SOONEST_MS = 2_000, LATEST_MS = 10_000;

const EMPTY = { waiting: [], asked: [], drafts: {} };

/** A key that nobody else has; also where the page is not served as a secure context. */
export const newKey = () => [...crypto.getRandomValues(new Uint8Array(16))].map((b) => b.toString(16).padStart(2, "0")).join("");

export class Queue {
  constructor(job, { changed, answered }) {
    this.place = `halfsilver bench ${job}`;
    this.job = job;
    this.changed = changed;
    this.answered = answered;
    this.away = false;
    this.busy = false;
    this.pause = SOONEST_MS;
    window.addEventListener("storage", (event) => { if (event.key === this.place) { this.memory = null; changed(); } });
    window.addEventListener("online", () => this.send());
    window.addEventListener("offline", () => this.gone());
    document.addEventListener("visibilitychange", () => { if (!document.hidden) this.send(); });
  }

  get held() {
    if (this.memory) return this.memory; // this browser keeps nothing: as long as the page is open
    try {
      return { ...EMPTY, ...JSON.parse(localStorage.getItem(this.place) ?? "{}") };
    } catch {
      return EMPTY;
    }
  }

  put(held) {
    try {
      localStorage.setItem(this.place, JSON.stringify(held));
    } catch {
      this.memory = held;
    }
    this.changed();
  }

  /** Put something at the end; a reading takes the place of a question about the same box. */
  add(one) {
    const { waiting, asked, drafts } = this.held;
    const item = { ...one, key: newKey() };
    const here = box(one);
    const others = Object.fromEntries(Object.entries(drafts).filter(([place]) => place !== here));
    this.put({ waiting: [...waiting, item], asked: asked.filter((other) => box(other) !== here), drafts: others });
    this.send();
    return item;
  }

  draft(one, text) {
    const held = this.held, drafts = { ...held.drafts };
    if (text) drafts[box(one)] = text;
    else delete drafts[box(one)];
    this.put({ ...held, drafts });
  }

  /** A question that needs no answer any more. */
  drop(key) {
    const held = this.held;
    this.put({ ...held, asked: held.asked.filter((one) => one.key !== key) });
  }

  async send() {
    if (this.busy) return;
    this.busy = true;
    try {
      for (let one; (one = this.held.waiting[0]); ) {
        const answer = await this.post(one);
        if (!answer) return this.later();
        this.back();
        const { waiting, asked, drafts } = this.held;
        const rest = waiting.filter((other) => other.key !== one.key);
        const known = asked.filter((other) => other.key !== one.key);
        this.put({ waiting: rest, asked: answer.kept ? known : [...known, { ...one, answer }], drafts });
        this.answered(one, answer);
      }
    } finally {
      this.busy = false;
    }
  }

  /** The program's answer; null where there is none, so that it is sent again. */
  async post(one, again = false) {
    const what = one.kind === "done" ? "done" : "reading";
    const { kind, step, label, point, ...fields } = one;
    const token = document.body.dataset.token;
    let answer;
    try {
      answer = await ask(`/jobs/${this.job}/bench/${encodeURIComponent(step)}/${what}`, {
        method: "POST", body: new URLSearchParams(fields), headers: { accept: "application/json", "x-desk-token": token, "hx-request": "true" },
      });
      if (answer.status === 403 && !again) return (await freshToken()) ? this.post(one, true) : null;
      if (answer.status >= 500 || answer.status === 403 || answer.status === 429) return null;
      if (answer.headers.get("content-type")?.startsWith("application/json")) return await answer.json();
      return { kept: false, lines: [], doubts: [], problems: [`The program did not take it (${answer.status}).`] };
    } catch {
      return null;
    }
  }

  /** Whether the program answers, and which state of the job stands there. */
  async number() {
    try {
      const answer = await ask(`/jobs/${this.job}/bench/all/number`, { headers: { accept: "application/json" } });
      if (!answer.ok) throw new Error(String(answer.status));
      const { number } = await answer.json();
      this.back();
      return number;
    } catch {
      this.gone();
      return null;
    }
  }

  later() {
    this.gone();
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.send(), this.pause);
    this.pause = Math.min(LATEST_MS, this.pause * 1.5);
  }

  gone() {
    if (!this.away) { this.away = true; this.changed(); }
  }

  back() {
    this.pause = SOONEST_MS;
    if (this.away) { this.away = false; this.changed(true); }
  }
}

/** Which box a reading belongs to; a step's tick has a box of its own. */
export const box = (one) => (one.kind === "done" ? `done ${one.step}` : `${one.name} at ${one.at}`);

async function ask(path, how) {
  const giveUp = new AbortController();
  const timer = setTimeout(() => giveUp.abort(), PATIENCE_MS);
  try {
    return await fetch(path, { ...how, signal: giveUp.signal, cache: "no-store" });
  } finally {
    clearTimeout(timer);
  }
}

/** A token of the start that now runs, for every form of the page. */
async function freshToken() {
  const answer = await ask("/token", { headers: { accept: "application/json" } });
  if (!answer.ok) return "";
  const { token } = await answer.json();
  document.body.dataset.token = token;
  for (const field of document.querySelectorAll('input[name="token"]')) field.value = token;
  return token;
}
