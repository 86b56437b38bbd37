// Changes on their way to the office: kept on this device until the office has them, each sent once, none lost.

const AGAIN = 6000;

/** Return a word that no other change has; also where the page is not on a safe address. */
function token() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** Return the office's token against forged requests: the newest one, which changes when one signs in again. */
export function csrfToken(given) {
  return /(?:^|; )csrftoken=([^;]+)/.exec(document.cookie)?.[1] ?? given;
}

export class Keeper {
  /** ``told``: sheet(sheet), done(entry, answer), refused(entry), waits(entry) once it is kept, changed() after every change of what is kept. */
  constructor(address, csrf, name, own, told) {
    Object.assign(this, { address, csrf, name: `sightwash-kept-${name}`, told });
    this.seen = []; this.revision = 0; this.busy = false; this.away = false;
    this.undone = []; this.doings = own.map(({ back, revision, words }) => ({ back, revision, words }));
    this.entries = this.#stored();
    addEventListener("online", () => this.send());
    addEventListener("beforeunload", () => this.#store());
    setInterval(() => { if (this.waiting.length) this.send(); }, AGAIN);
  }

  get waiting() { return this.entries.filter((entry) => entry.state === "waiting"); }

  #stored() {
    try { return JSON.parse(localStorage.getItem(this.name) ?? "[]"); } catch { return []; }
  }

  #store() {
    try {
      if (this.entries.length) localStorage.setItem(this.name, JSON.stringify(this.entries)); else localStorage.removeItem(this.name);
      this.full = false;
    } catch { this.full = true; }
    this.told.changed();
  }

  /** Take an operation to send; ``turn`` says whether it takes back ("undo") or does again ("redo"). */
  take(operation, words, { undoes = null, base = this.revision, turn = null, ghost = null } = {}) {
    const entry = { token: token(), operation, words, base, undoes, turn, ghost, state: "waiting" };
    this.entries.push(entry);
    this.#store();
    this.send();
    return entry;
  }

  /** Send again what was refused or in conflict, against what the site is now. */
  again(entry, operation = entry.operation) {
    Object.assign(entry, { token: token(), operation, base: this.revision, undoes: null, turn: null, state: "waiting" });
    delete entry.errors; delete entry.clashes;
    this.#store();
    this.send();
  }

  drop(entry) {
    this.entries = this.entries.filter((each) => each !== entry);
    this.#store();
  }

  undo() {
    const last = this.doings.pop();
    if (last) this.take(last.back, last.words, { undoes: last.revision, base: last.revision, turn: "undo" });
  }

  redo() {
    const last = this.undone.pop();
    if (last) this.take(last.back, last.words, { undoes: last.revision, base: last.revision, turn: "redo" });
  }

  async send() {
    if (this.busy) return;
    this.busy = true;
    try {
      for (let entry = this.waiting[0]; entry; entry = this.waiting[0]) if (!(await this.#sent(entry))) break;
      for (const entry of this.waiting.filter((each) => !each.held)) { entry.held = true; this.told.waits(entry); }
    } finally {
      this.busy = false;
      this.told.changed();
    }
  }

  /** Send one change; false where the office could not be reached, so that the rest waits too. */
  async #sent(entry) {
    let answer, body = {};
    try {
      answer = await fetch(this.address, { method: "POST", credentials: "same-origin", headers: { "Content-Type": "application/json", Accept: "application/json", "X-CSRFToken": csrfToken(this.csrf) },
        body: JSON.stringify({ operation: entry.operation, base: entry.base, token: entry.token, undoes: entry.undoes, seen: this.seen.filter((each) => each > entry.base).slice(-500) }) });
      body = await answer.json();
    } catch { answer = answer?.ok ? null : answer; }
    this.away = !answer || answer.status >= 500;
    this.signedOut = answer?.status === 401 || answer?.status === 403;
    if (this.away || this.signedOut) return false;
    if (answer.ok) this.#done(entry, body); else this.#refused(entry, answer.status, body);
    return true;
  }

  #done(entry, body) {
    this.seen.push(body.done);
    const kept = { back: body.back, revision: body.done, words: entry.words };
    if (entry.turn === "undo") this.undone.push(kept);
    else { this.doings.push(kept); if (entry.turn !== "redo") this.undone = []; }
    this.revision = body.sheet.revision;
    this.entries = this.entries.filter((each) => each !== entry);
    this.#store();
    this.told.sheet(body.sheet);
    this.told.done(entry, body);
  }

  #refused(entry, status, body) {
    entry.state = status === 409 ? "clash" : "refused";
    entry.errors = body.errors ?? []; entry.clashes = body.clashes ?? [];
    this.#store();
    this.told.refused(entry);
  }
}
