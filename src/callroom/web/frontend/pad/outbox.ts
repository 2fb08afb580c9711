// Sending what waits, one after the other, for as long as it takes. A send that got no
// answer may have arrived all the same, so it is repeated under the same key and counts once.

import type { Keeping, Waiting } from "./keeping.ts";

const FIRST_WAIT_MS = 1_000;
const LONGEST_WAIT_MS = 15_000;
const PATIENCE_MS = 10_000;
// A browser sends no more than 64 KiB after its page is gone; a longer body it refuses at once.
const KEEPALIVE_MOST = 30_000;

export class Outbox {
  private readonly keeping: Keeping;
  private readonly formToken: string;
  private readonly changed: (waiting: readonly Waiting[]) => void;
  private readonly outdated: () => void;
  private wait = FIRST_WAIT_MS;
  private busy = false;
  private timer = 0;

  constructor(
    keeping: Keeping,
    formToken: string,
    changed: (waiting: readonly Waiting[]) => void,
    outdated: () => void,
  ) {
    this.keeping = keeping;
    this.formToken = formToken;
    this.changed = changed;
    this.outdated = outdated;
    globalThis.addEventListener("online", () => this.hurry());
    document.addEventListener("visibilitychange", () => this.hurry());
  }

  /** Keep it on the phone, then try to send; returns once it is kept. */
  async add(waiting: Waiting): Promise<void> {
    await this.keeping.add(waiting);
    // Said before it is sent: a silent network takes its time to fail.
    this.changed(await this.keeping.all());
    this.hurry();
  }

  /** Try at once. */
  hurry(): void {
    this.wait = FIRST_WAIT_MS;
    void this.work();
  }

  private async work(): Promise<void> {
    if (this.busy) return;
    this.busy = true;
    clearTimeout(this.timer);
    let reached = true;
    const queue = (await this.keeping.all()).filter((one) => one.state === "waiting");
    for (const [place, waiting] of queue.entries()) {
      const after = await this.send(waiting, queue.length - place - 1);
      await this.keeping.put(after);
      this.changed(await this.keeping.all());
      if (after.state === "waiting") {
        reached = false;
        break; // in order: what was counted later is not sent first
      }
    }
    this.busy = false;
    const all = await this.keeping.all();
    this.changed(all);
    if (reached) {
      this.wait = FIRST_WAIT_MS;
      if (all.some((one) => one.state === "waiting")) void this.work();
      return;
    }
    this.timer = globalThis.setTimeout(() => void this.work(), this.wait);
    this.wait = Math.min(this.wait * 2, LONGEST_WAIT_MS);
  }

  /** Send one; the server hears how many wait behind it, for the director to see. */
  private async send(waiting: Waiting, behind: number): Promise<Waiting> {
    const patience = new AbortController();
    const timer = globalThis.setTimeout(() => patience.abort(), PATIENCE_MS);
    try {
      const response = await fetch("/entries", {
        method: "POST",
        headers: {
          "Content-Type": "application/json",
          "Idempotency-Key": waiting.key,
          "X-Form-Token": this.formToken,
          "X-Waiting": String(behind),
          ...(waiting.made_by ? { "X-Made-By": waiting.made_by } : {}),
        },
        body: waiting.body,
        signal: patience.signal,
        keepalive: waiting.body.length < KEEPALIVE_MOST,
      });
      if (response.ok) {
        await response.text();
        return { ...waiting, state: "delivered", answer: "" };
      }
      // The server is busy, starting, or does not know this phone yet: wait, nothing is lost.
      if (response.status >= 500 || [401, 403, 408, 421, 425, 429].includes(response.status)) {
        const { rule, sentence } = await saidIn(response);
        // This page was kept from before the phone joined anew.
        if (rule === "web.forged") this.outdated();
        return { ...waiting, answer: sentence };
      }
      return { ...waiting, state: "refused", answer: (await saidIn(response)).sentence };
    } catch {
      return { ...waiting, answer: "" };
    } finally {
      clearTimeout(timer);
    }
  }
}

async function saidIn(response: Response): Promise<{ rule: string; sentence: string }> {
  const status = String(response.status);
  try {
    const said = (await response.json()) as { rule?: unknown; sentence?: unknown };
    const text = (value: unknown): string => (typeof value === "string" ? value : status);
    return { rule: text(said.rule), sentence: text(said.sentence) };
  } catch {
    return { rule: status, sentence: status };
  }
}
