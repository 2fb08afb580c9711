// The lane pad: one judge, one lane, one heat. Works for as long as the network does not.

import { passed, show } from "../clock/face.ts";
import { keepInStep } from "../clock/sampling.ts";
import { signalBetween } from "../clock/signals.ts";
import { DOUBTFUL_MS } from "../clock/doubt.ts";
import { SyncedClock, steadyNow } from "../clock/synced.ts";
import { drawAhead, keepAhead } from "../pad/ahead.ts";
import { button, el } from "../pad/dom.ts";
import { sayResult } from "../pad/hand_in.ts";
import { drawHead, drawKept, drawOthers, drawWarnings } from "../pad/head.ts";
import { Keeping, newKey, type Waiting } from "../pad/keeping.ts";
import { movedForm } from "../pad/moved.ts";
import { notesOf } from "../pad/notes.ts";
import { Outbox } from "../pad/outbox.ts";
import { pack, type Parcel } from "../pad/parcel.ts";
import { partZero, reportOf } from "../pad/report.ts";
import { acknowledgement, drawRuling, unread } from "../pad/rulings.ts";
import { drawPart } from "../pad/screen.ts";
import { drawSent } from "../pad/sent.ts";
import type { Looks } from "../pad/sight.ts";
import { fold, isNews, total, type Mark } from "../pad/tally.ts";
import { laneKey, type LanePad, type PadNow, type PadPart, type PadRuling } from "../pad/work.ts";
import { wordsFrom, type Words } from "../pad/words.ts";
import { whenUntouched } from "../touch.ts";

const LISTEN_BEFORE_MS = 2_000;
const LISTEN_DURING_MS = 5_000;
const PATIENCE_MS = 6_000;
const SILENT_MS = 20_000;
const TICK_MS = 100;
const RENEWED = "callroom-pad-renewed";
const RENEW_AGAIN_MS = 60_000;
// The press of a key comes a moment after the field before it is left.
const AFTER_TYPING_MS = 300;
// A finish on the cap counts, and a thumb is slow: so long the key stays.
const LATE_FINISH_MS = 3_000;
const STALE_MS = 800;
const SHAKES: Readonly<Record<string, number[]>> = {
  short: [60],
  long: [400],
  end: [400, 150, 400],
};

class Pad {
  private readonly root: HTMLElement;
  private readonly pad: LanePad;
  private readonly words: Words;
  private readonly keeping: Keeping;
  private readonly outbox: Outbox;
  private readonly clock = new SyncedClock();
  private readonly logs = new Map<string, readonly Mark[]>();
  private readonly looks: Looks = {
    strand: 0,
    reasons: false,
    sending: false,
    more: false,
    lift: "",
    signed: false,
    initials: "",
    moved: false,
    address: "",
  };
  private part: PadPart;
  private now: PadNow | null = null;
  private heard = 0;
  private ticked: number | null = null;
  private waiting: readonly Waiting[] = [];
  private work: Promise<void> = Promise.resolve();
  private putOff = false;
  private leaving = false;
  private anew = false;
  private ended = false;
  private readonly redraw = (): void => this.draw();
  /** What the clock had jumped by when this heat's zero was told. */
  private jumpedBefore = 0;

  constructor(root: HTMLElement, pad: LanePad, part: PadPart, words: Words, keeping: Keeping) {
    this.root = root;
    this.pad = pad;
    this.part = part;
    this.words = words;
    this.keeping = keeping;
    const token = root.dataset["formToken"] ?? "";
    this.outbox = new Outbox(
      keeping,
      token,
      (waiting) => {
        this.waiting = waiting;
        this.drawQuietly();
      },
      () => this.renew(),
    );
    root.addEventListener("focusout", () => {
      setTimeout(() => this.putOff && this.drawQuietly(), AFTER_TYPING_MS);
    });
    // Without the server a reload shows nothing at all: ask before leaving.
    addEventListener("beforeunload", (event) => {
      if (this.silent() && !this.leaving) event.preventDefault();
    });
  }

  /** Draw, but never under a finger that is touching or typing. */
  private drawQuietly(): void {
    if (this.typing()) this.putOff = true;
    else whenUntouched(this.redraw);
  }

  /** Get this page anew from the server that has just answered; not again and again. */
  private renew(): void {
    const last = Number(sessionStorage.getItem(RENEWED) ?? 0);
    if (Date.now() - last < RENEW_AGAIN_MS) return;
    sessionStorage.setItem(RENEWED, String(Date.now()));
    this.leaving = true;
    globalThis.location.reload();
  }

  /** Something to be sent, as the device this page was made for. */
  private toSend(body: string, says: string): Waiting {
    const made_by = this.root.dataset["device"] ?? "";
    return { key: newKey(), body, says, state: "waiting", answer: "", made_by };
  }

  private typing(): boolean {
    const active = document.activeElement;
    const typed = active instanceof HTMLInputElement && active.type !== "checkbox";
    return typed && this.root.contains(active);
  }

  async begin(): Promise<void> {
    await this.keeping.tidy();
    for (const part of this.pad.parts) {
      this.logs.set(part.id, await this.keeping.log(this.logKey(part)));
    }
    const last = await this.keeping.heard(laneKey(this.pad));
    if (last !== null) {
      this.now = last.now;
      this.jumpedBefore = -last.jumped;
      this.clock.restore(last.offset, last.error, last.at);
    }
    this.waiting = await this.keeping.all();
    this.heard = steadyNow();
    const ready = document.querySelector(".pad-ready");
    if (ready !== null) this.root.before(ready);
    this.draw();
    this.outbox.hurry();
    keepInStep(this.clock, () => !document.hidden, () => undefined);
    globalThis.setInterval(() => this.tick(), TICK_MS);
    const paths = [globalThis.location.pathname, ...this.pad.next.map((one) => one.path)];
    keepAhead(paths, (count) => (this.root.dataset["ahead"] = String(count)));
    void this.listen();
  }

  private logKey(part: PadPart): string {
    return `${laneKey(this.pad)}/${part.id}`;
  }

  private marks(): readonly Mark[] {
    return this.logs.get(this.part.id) ?? [];
  }

  private done(): number {
    return total(fold(this.part, this.marks()));
  }

  /** The zero of the heat's clock [ms, server], as told or as this judge started it. */
  private zero(): number | null {
    return this.now?.zero_ms ?? fold(this.part, this.marks()).started;
  }

  /** The time by the clock that told the zero: another laptop's may be seconds away from it. */
  private time(): number {
    return this.clock.now() - (this.clock.jumped - this.jumpedBefore);
  }

  private doubtful(): boolean {
    return (this.clock.error ?? Infinity) > DOUBTFUL_MS;
  }

  /** Change the log: kept on the phone first, then shown. One change after the other. */
  private change(next: (marks: readonly Mark[]) => readonly Mark[]): void {
    const part = this.part;
    this.work = this.work
      .then(async () => {
        const before = this.logs.get(part.id) ?? [];
        const after = next(before);
        if (after.length === before.length) return;
        const bodies = notesOf(this.pad, part, before, after, Math.round(this.time()));
        const notes = bodies.map((body) => this.toSend(body, ""));
        await this.keeping.keepLog(this.logKey(part), after, notes);
        this.logs.set(part.id, after);
        // At once, unless the next touch has begun.
        whenUntouched(this.redraw);
        if (notes.length > 0) this.outbox.hurry();
      })
      .catch((fault: unknown) => this.warn(this.words("The phone does not keep this: {why}", { why: String(fault) })));
  }

  private add(...marks: readonly Mark[]): void {
    for (const mark of marks) {
      this.change((log) => (isNews(this.part, log, mark) ? [...log, mark] : log));
    }
  }

  private send(signed: boolean, initials: string): void {
    const { pad, part, words } = this;
    const report = reportOf(pad, part, this.marks(), this.now?.zero_ms ?? null, signed);
    const body = JSON.stringify({
      kind: "score.reported",
      data: report,
      seen_at_ms: Math.round(this.time()),
      clock_error_ms: this.clock.error ?? undefined,
      initials: initials === "" ? undefined : initials,
    });
    const says = [
      pad.card,
      words("Lane {lane}", { lane: pad.lane }),
      pad.team_name,
      pad.workout_name,
      ...(pad.parts.length > 1 ? [part.name] : []),
      sayResult(report.result, words),
    ].join(" · ");
    this.looks.sending = false;
    this.looks.more = false;
    void this.outbox
      .add(this.toSend(body, says))
      .then(() => this.draw());
  }

  /** Hear from the server what time it is and whether the heat has started. */
  private async listen(): Promise<void> {
    const patience = new AbortController();
    const timer = globalThis.setTimeout(() => patience.abort(), PATIENCE_MS);
    try {
      const address = `${this.root.dataset["now"] ?? ""}?part=${encodeURIComponent(this.part.id)}&done=${this.done()}`;
      const response = await fetch(address, { signal: patience.signal });
      if (response.ok) {
        this.take((await response.json()) as PadNow);
        await this.remember();
        await this.follow();
      }
    } catch {
      // No answer is no news; the warning comes from how long it has been.
    } finally {
      clearTimeout(timer);
    }
    const started = this.now?.zero_ms != null && !this.silent();
    globalThis.setTimeout(() => void this.listen(), started ? LISTEN_DURING_MS : LISTEN_BEFORE_MS);
  }

  private take(now: PadNow): void {
    const before = this.now?.zero_ms ?? null;
    if (now.zero_ms !== before) this.jumpedBefore = this.clock.jumped;
    // What was counted belongs to a start that did not count.
    if (before !== null && now.zero_ms !== before && this.marks().length > 0) this.anew = true;
    this.now = now;
    this.heard = steadyNow();
    // A re-run is another sheet, and its time another clock: this page is for the old one.
    if (now.attempt > this.pad.attempt && now.team === this.pad.team) {
      if (this.open().length === 0) globalThis.location.reload();
    }
    const other = now.team !== "" && now.team !== this.pad.team;
    if ((this.amended() || other) && this.untouched()) globalThis.location.reload();
    this.outbox.hurry();
    this.drawQuietly();
  }

  /** What was heard last is kept: a page opened anew without a network knows the zero. */
  private async remember(): Promise<void> {
    const { now, clock } = this;
    if (now === null || clock.error === null) return;
    const jumped = clock.jumped - this.jumpedBefore;
    const heard = { now, jumped, offset: clock.offset, error: clock.error, at: steadyNow() };
    await this.keeping.keepHeard(laneKey(this.pad), heard);
  }

  /** Notice that another laptop carries on with the book. */
  private async follow(): Promise<void> {
    const generation = this.now?.generation ?? 0;
    const known = await this.keeping.generation();
    if (generation <= known) return;
    if (known === 0) await this.keeping.keepGeneration(generation);
    else {
      await this.keeping.carriedOn(generation);
      this.outbox.hurry();
    }
  }

  /** The workout was changed since this page was made: what it shows is the old one. */
  private amended(): boolean {
    return this.now !== null && this.now.amendment !== this.pad.amendment;
  }

  private untouched(): boolean {
    return this.open().length === 0 && [...this.logs.values()].every((marks) => marks.length === 0);
  }

  private silent(): boolean {
    return steadyNow() - this.heard > SILENT_MS;
  }

  private tick(): void {
    const [digits, says] = this.clockSays();
    this.put(".pad-clock", digits);
    this.put(".pad-says", says);
    this.put(".pad-step", this.stepSays());
    this.root.querySelector(".pad-step")?.classList.toggle("doubt", this.doubtful());
    // That a lane is ready matters until the clock has started.
    const ready = document.querySelector<HTMLElement>(".pad-ready");
    if (ready !== null) ready.hidden = this.zero() !== null;
    const silent = this.root.querySelector<HTMLElement>(".pad-silent");
    if (silent !== null) silent.hidden = !this.silent();
    this.sign();
    if (this.hasEnded() !== this.ended) {
      this.ended = !this.ended;
      this.drawQuietly();
    }
  }

  private hasEnded(): boolean {
    const nought = partZero(this.part, fold(this.part, this.marks()), this.now?.zero_ms ?? null);
    if (nought === null) return false;
    if (this.now?.held_ms != null) return true;
    return this.time() > nought + this.part.cap_ms + LATE_FINISH_MS;
  }

  private put(selector: string, text: string): void {
    const place = this.root.querySelector(selector);
    if (place !== null && place.textContent !== text) place.textContent = text;
  }

  private face() {
    const zero = this.zero();
    const held_ms = this.now?.held_ms ?? null;
    return zero === null ? null : { zero_ms: zero, held_ms, spans: this.pad.clock };
  }

  /** The seconds before and after nought, every turn and the end are felt and seen. */
  private sign(): void {
    const face = this.face();
    const now = this.time();
    const { ticked } = this;
    this.ticked = now;
    if (face === null || ticked === null) return;
    const signal = signalBetween(face, Math.max(ticked, now - STALE_MS), now);
    if (signal === null) return;
    this.root.dataset["sign"] = signal.sign;
    setTimeout(() => delete this.root.dataset["sign"], signal.sign === "short" ? 250 : 1_000);
    navigator.vibrate?.(SHAKES[signal.sign] ?? []);
  }

  private clockSays(): readonly [digits: string, says: string] {
    const tally = fold(this.part, this.marks());
    const nought = partZero(this.part, tally, this.now?.zero_ms ?? null);
    if (tally.typed_ms !== null) return [passed(tally.typed_ms), ""];
    if (tally.finished !== null && nought !== null) return [passed(tally.finished - nought), ""];
    const face = this.face();
    if (face === null) return [this.words("waiting"), ""];
    const shown = show(face, this.time());
    return [shown.phase === "over" ? this.words("time is up") : shown.digits, shown.says];
  }

  private stepSays(): string {
    const { error } = this.clock;
    if (error === null) return this.words("This phone does not know the time yet");
    return this.words("clock ±{ms} ms", { ms: error });
  }

  private draw(): void {
    const { pad, words } = this;
    this.putOff = false;
    const tally = fold(this.part, this.marks());
    const silent = el(
      "section",
      { class: "pad-warn pad-silent", role: "status" },
      el("p", { text: words("No connection. Go on counting; do not reload this page.") }),
      el("p", { text: words("If it is lost, open {address} anew: everything is kept.", { address: location.host + location.pathname }) }),
      button(words("The server has moved"), "line", () => this.openMoved()),
    );
    silent.hidden = !this.silent();
    this.root.replaceChildren(
      drawHead(pad, words),
      drawKept(this.open(), words),
      silent,
      ...drawWarnings(pad, this.now, this.open(), words),
      ...drawOthers(this.now?.others ?? [], this.part.id, total(tally), words, (done) => this.goOn(done)),
      ...this.rulings(),
      ...this.amendment(),
      ...this.startedAnew(),
      ...(this.looks.moved ? [movedForm(words, this.looks, () => this.parcel())] : []),
      this.partKeys(),
      drawPart({
        pad,
        part: this.part,
        marks: this.marks(),
        zero: this.now?.zero_ms ?? null,
        doubtful: this.doubtful(),
        ended: this.ended,
        looks: this.looks,
        words,
        hands: {
          mark: (mark) => this.add(mark),
          undo: () => this.change((marks) => marks.slice(0, -1)),
          send: (signed, initials) => this.send(signed, initials),
          now: () => Math.round(this.time()),
          redraw: () => this.draw(),
          moved: () => this.openMoved(),
        },
      }),
      drawSent(this.waiting, words),
      ...drawAhead(pad.next, words),
    );
    this.tick();
  }

  /** Another judge's phone is further on: this one takes the lane over from there. */
  private goOn(done: number): void {
    const at = Math.round(this.time());
    this.add({ does: "total", at, total: done }, { does: "judge", at });
  }

  private openMoved(): void {
    this.looks.more = false;
    this.looks.moved = !this.looks.moved;
    this.draw();
    this.root.querySelector<HTMLInputElement>(".pad-address")?.focus();
  }

  /** All that this phone has to take along to the server's new address. */
  private parcel(): Promise<Parcel> {
    const { device = "", proof = "" } = this.root.dataset;
    const path = globalThis.location.pathname;
    this.leaving = true;
    return pack(this.keeping, { device, proof, path }, laneKey(this.pad), this.time());
  }

  private open(): readonly Waiting[] {
    return this.waiting.filter((one) => one.state !== "delivered");
  }

  /** What the head judge ruled: one after the other, so that the keys stay where they are. */
  private rulings(): HTMLElement[] {
    return unread(this.now?.rulings ?? [], this.waiting)
      .slice(0, 1)
      .map((ruling) => drawRuling(ruling, this.words, (read) => this.acknowledge(read)));
  }

  /** A workout amended while it was counted: the judge chooses when to turn to the new one. */
  private amendment(): HTMLElement[] {
    if (!this.amended()) return [];
    const text = this.words("The workout was amended. This page counts it as it was before.");
    const open = this.words("Open it as it is now");
    return [
      el(
        "section",
        { class: "pad-ruling", role: "alert" },
        el("p", { class: "pad-answer", text }),
        button(open, "line", () => globalThis.location.reload()),
      ),
    ];
  }

  /** A start was taken back: nothing is thrown away unless the judge says so. */
  private startedAnew(): HTMLElement[] {
    if (!this.anew) return [];
    const { words } = this;
    const choose = (clear: boolean) => () => {
      this.anew = false;
      if (clear) this.change(() => []);
      else this.draw();
    };
    return [
      el(
        "section",
        { class: "pad-ruling", role: "alert" },
        el("p", { class: "pad-answer", text: words("The start was taken back: the heat begins anew.") }),
        el(
          "div",
          { class: "pad-row" },
          button(words("Keep the count"), "thin", choose(false)),
          button(words("Begin from nought"), "finish", choose(true)),
        ),
      ),
    ];
  }

  private acknowledge(ruling: PadRuling): void {
    const says = this.words("Ruling {n} read", { n: ruling.number });
    const body = acknowledgement(ruling);
    void this.outbox
      .add(this.toSend(body, says))
      .then(() => this.draw());
  }

  private warn(text: string): void {
    this.root.prepend(el("p", { class: "pad-warn", text, role: "alert" }));
  }

  private partKeys(): HTMLElement {
    const row = el("nav", { class: "pad-row pad-parts" });
    for (const part of this.pad.parts.length > 1 ? this.pad.parts : []) {
      const press = () => {
        this.part = part;
        this.draw();
      };
      row.append(
        el("button", { class: "pad-key line", text: part.name, pressed: part === this.part, press }),
      );
    }
    return row;
  }
}

async function begin(): Promise<void> {
  const root = document.querySelector<HTMLElement>("#pad");
  const given = root?.dataset["pad"];
  if (root === null || given === undefined) return;
  const words = wordsFrom(JSON.parse(root.dataset["words"] ?? "{}") as Record<string, string>);
  const pad = JSON.parse(given) as LanePad;
  const first = pad.parts[0];
  if (first === undefined) return;
  try {
    await new Pad(root, pad, first, words, await Keeping.open()).begin();
  } catch (fault) {
    const why = words("The phone does not keep this: {why}", { why: String(fault) });
    root.replaceChildren(el("p", { class: "pad-warn", text: why, role: "alert" }));
  }
}

void begin();
