// The lane pad: one judge, one lane, one heat. Works for as long as the network does not.

import { SyncedClock, steadyNow } from "../clock/synced.ts";
import { button, clockText, el } from "../pad/dom.ts";
import { Keeping, newKey, type Waiting } from "../pad/keeping.ts";
import { Outbox } from "../pad/outbox.ts";
import { partZero, reportOf } from "../pad/report.ts";
import { acknowledgement, drawRuling, unread } from "../pad/rulings.ts";
import { drawPart, sayResult, type Looks } from "../pad/screen.ts";
import { fold, isNews, type Mark } from "../pad/tally.ts";
import { laneKey, type LanePad, type PadNow, type PadPart, type PadRuling } from "../pad/work.ts";
import { wordsFrom, type Words } from "../pad/words.ts";

const LISTEN_BEFORE_MS = 2_000;
const LISTEN_DURING_MS = 8_000;
const PATIENCE_MS = 6_000;

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
  };
  private part: PadPart;
  private now: PadNow | null = null;
  private heard = 0;
  private waiting: readonly Waiting[] = [];
  private work: Promise<void> = Promise.resolve();
  private putOff = false;

  constructor(root: HTMLElement, pad: LanePad, part: PadPart, words: Words, keeping: Keeping) {
    this.root = root;
    this.pad = pad;
    this.part = part;
    this.words = words;
    this.keeping = keeping;
    const token = root.dataset["formToken"] ?? "";
    this.outbox = new Outbox(keeping, token, (waiting) => {
      this.waiting = waiting;
      this.drawQuietly();
    });
    root.addEventListener("focusout", () => this.putOff && this.draw());
  }

  /** Draw what came from outside, but never under fingers that are typing. */
  private drawQuietly(): void {
    const active = document.activeElement;
    const typing = active instanceof HTMLInputElement && active.type !== "checkbox";
    if (typing && this.root.contains(active)) this.putOff = true;
    else this.draw();
  }

  async begin(): Promise<void> {
    for (const part of this.pad.parts) {
      this.logs.set(part.id, await this.keeping.log(this.logKey(part)));
    }
    this.waiting = await this.keeping.all();
    this.draw();
    this.outbox.hurry();
    globalThis.setInterval(() => this.tick(), 100);
    void this.listen();
  }

  private logKey(part: PadPart): string {
    return `${laneKey(this.pad)}/${part.id}`;
  }

  private marks(): readonly Mark[] {
    return this.logs.get(this.part.id) ?? [];
  }

  /** Change the log: kept on the phone first, then shown. One change after the other. */
  private change(next: (marks: readonly Mark[]) => readonly Mark[]): void {
    const part = this.part;
    this.work = this.work
      .then(async () => {
        const marks = next(this.logs.get(part.id) ?? []);
        await this.keeping.keepLog(this.logKey(part), marks);
        this.logs.set(part.id, marks);
        this.draw();
      })
      .catch((fault: unknown) => this.warn(this.words("The phone does not keep this: {why}", { why: String(fault) })));
  }

  private send(signed: boolean): void {
    const part = this.part;
    const tally = fold(part, this.marks());
    const report = reportOf(this.pad, part, tally, this.now?.zero_ms ?? null, signed);
    const body = JSON.stringify({
      kind: "score.reported",
      data: report,
      seen_at_ms: this.clock.now(),
      clock_error_ms: this.clock.error ?? undefined,
    });
    const says = `${this.words("Lane {lane}", { lane: this.pad.lane })} · ${this.pad.team_name} · ${this.pad.workout_name} · ${sayResult(report.result, this.words)}`;
    this.looks.sending = false;
    this.looks.more = false;
    void this.outbox
      .add({ key: newKey(), body, says, state: "waiting", answer: "" })
      .then(() => this.draw());
  }

  /** Hear from the server what time it is and whether the heat has started. */
  private async listen(): Promise<void> {
    const patience = new AbortController();
    const timer = globalThis.setTimeout(() => patience.abort(), PATIENCE_MS);
    try {
      const sent = steadyNow();
      const response = await fetch(this.root.dataset["now"] ?? "", { signal: patience.signal });
      const received = steadyNow();
      if (response.ok) {
        this.now = (await response.json()) as PadNow;
        this.clock.note(sent, received, this.now.now_ms);
        this.heard = received;
        // A re-run is another sheet, and its time another clock: this page is for the old one.
        if (this.now.attempt > this.pad.attempt && this.now.team === this.pad.team) {
          if (this.mine().length === 0) globalThis.location.reload();
        }
        if (this.amended() && this.untouched()) globalThis.location.reload();
        this.outbox.hurry();
        this.drawQuietly();
      }
    } catch {
      // No answer is no news; the warning comes from how long it has been.
    } finally {
      clearTimeout(timer);
    }
    const started = this.now?.zero_ms != null && this.heard > 0;
    globalThis.setTimeout(() => void this.listen(), started ? LISTEN_DURING_MS : LISTEN_BEFORE_MS);
  }

  /** The workout was changed since this page was made: what it shows is the old one. */
  private amended(): boolean {
    return this.now !== null && this.now.amendment !== this.pad.amendment;
  }

  private untouched(): boolean {
    return this.mine().length === 0 && [...this.logs.values()].every((marks) => marks.length === 0);
  }

  private tick(): void {
    const shown = this.root.querySelector(".pad-clock");
    if (shown !== null) shown.textContent = this.clockSays();
    const silent = this.root.querySelector<HTMLElement>(".pad-silent");
    if (silent !== null) silent.hidden = !this.silent();
  }

  private silent(): boolean {
    return steadyNow() - this.heard > 20_000;
  }

  private clockSays(): string {
    const tally = fold(this.part, this.marks());
    const zero = partZero(this.part, tally, this.now?.zero_ms ?? null);
    if (zero === null) return this.words("waiting");
    const passed = (tally.finished ?? this.clock.now()) - zero;
    if (passed < 0) return `−${clockText(-passed + 999)}`;
    return passed > this.part.cap_ms ? this.words("time is up") : clockText(passed);
  }

  private draw(): void {
    this.putOff = false;
    this.root.replaceChildren(
      this.head(),
      this.keptLine(),
      ...this.warnings(),
      ...this.rulings(),
      ...this.amendment(),
      this.partKeys(),
      drawPart({
        pad: this.pad,
        part: this.part,
        marks: this.marks(),
        zero: this.now?.zero_ms ?? null,
        looks: this.looks,
        words: this.words,
        hands: {
          mark: (mark) =>
            this.change((marks) => (isNews(this.part, marks, mark) ? [...marks, mark] : marks)),
          undo: () => this.change((marks) => marks.slice(0, -1)),
          send: (signed) => this.send(signed),
          now: () => this.clock.now(),
          redraw: () => this.draw(),
        },
      }),
      this.handedIn(),
    );
    this.tick();
  }

  private head(): HTMLElement {
    const { pad } = this;
    const heat = this.words("Heat {n}", { n: pad.heat_number });
    const again = pad.attempt > 1 ? this.words("attempt {n}", { n: pad.attempt }) : "";
    return el(
      "header",
      { class: "pad-head" },
      el("span", { class: "pad-lane", text: String(pad.lane), label: this.words("Lane {lane}", { lane: pad.lane }) }),
      el(
        "div",
        { class: "pad-who" },
        el("h1", { text: pad.team_name }),
        el("p", { text: [pad.workout_name, heat, pad.division, again].filter(Boolean).join(" · ") }),
      ),
      el("span", { class: "pad-clock", role: "timer" }),
    );
  }

  private mine(): readonly Waiting[] {
    return this.waiting.filter((one) => one.state !== "delivered");
  }

  private keptLine(): HTMLElement {
    const open = this.mine();
    const text =
      open.length === 0
        ? this.words("Nothing waits to be sent")
        : this.words("{n} on this phone, waiting to be sent", { n: open.length });
    return el("p", { class: open.length === 0 ? "pad-kept" : "pad-kept some", text, role: "status" });
  }

  private warnings(): HTMLElement[] {
    const said: string[] = [];
    const now = this.now;
    if (now !== null && now.team !== this.pad.team) {
      said.push(this.words("The plan has changed: another team is in this lane now. Ask the desk."));
    }
    if (now !== null && now.other_reports > 0) {
      said.push(this.words("Another phone has sent a score for this lane too."));
    }
    const answers = this.mine().map((one) => one.answer).filter((answer) => answer !== "");
    said.push(...new Set(answers));
    const silent = el("p", {
      class: "pad-warn pad-silent",
      text: this.words("No connection. Go on counting; do not reload this page."),
    });
    silent.hidden = !this.silent();
    return [silent, ...said.map((text) => el("p", { class: "pad-warn", text, role: "alert" }))];
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

  private acknowledge(ruling: PadRuling): void {
    const says = this.words("Ruling {n} read", { n: ruling.number });
    const body = acknowledgement(ruling);
    void this.outbox
      .add({ key: newKey(), body, says, state: "waiting", answer: "" })
      .then(async () => {
        this.waiting = await this.keeping.all();
        this.draw();
      });
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

  /** What was handed in, as plain figures that can be read out. */
  private handedIn(): HTMLElement {
    const list = el("ul", { class: "pad-sent" });
    for (const one of [...this.waiting].reverse().slice(0, 6)) {
      const state = { waiting: "waits", delivered: "delivered", refused: "refused" }[one.state];
      list.append(el("li", { class: one.state, text: `${one.says} – ${this.words(state)}` }));
    }
    return list;
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
