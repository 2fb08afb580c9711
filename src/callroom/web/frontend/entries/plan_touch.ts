// A draft of the plan under the hand: heats and breaks are dragged, moved by the arrow keys, or
// tapped. The server makes every change and draws the picture anew; this script only sends what
// the hand did. Without it the same buttons are a form.

export {}; // a module: its names are its own

const REST_MS = 450; // arrow keys pressed one after the other are one change
const STILL_PX = 5; // a mouse that moved less only clicked

type Wanted = Record<string, string>;

interface Grip {
  place: SVGElement;
  x: number;
  y: number;
  top: number;
  moved: boolean;
  whole: boolean;
}

class Hand {
  private readonly place: HTMLElement;
  private readonly said: HTMLElement;
  private grip: Grip | null = null;
  private nudged: { mark: string; by: number; whole: boolean } | null = null;
  private waiting = 0;
  private queue: Promise<void> = Promise.resolve();
  private dropped = false;

  constructor(place: HTMLElement, said: HTMLElement) {
    this.place = place;
    this.said = said;
  }

  start(): void {
    this.place.addEventListener("submit", (event) => this.submit(event));
    this.place.addEventListener("click", (event) => this.click(event));
    this.place.addEventListener("keydown", (event) => this.key(event));
    this.place.addEventListener("pointerdown", (event) => this.take(event));
    this.place.addEventListener("dragstart", (event) => event.preventDefault());
    addEventListener("pointermove", (event) => this.drag(event));
    addEventListener("pointerup", (event) => this.drop(event));
    addEventListener("pointercancel", () => this.letGo());
  }

  private get desk(): HTMLElement {
    return this.place.querySelector<HTMLElement>("[data-touch-desk]") ?? this.place;
  }

  private get chosen(): string {
    return this.place.querySelector<HTMLElement>(".touch-heat.chosen")?.dataset["heat"] ?? "";
  }

  // What stands in the forms of the desk.

  private submit(event: SubmitEvent): void {
    const form = event.target as HTMLFormElement;
    if ("whole" in form.dataset) return; // publishing leaves this page
    event.preventDefault();
    const wanted: Wanted = {};
    new FormData(form, event.submitter).forEach((value, name) => {
      if (typeof value === "string") wanted[name] = value;
    });
    const button = event.submitter;
    if (button instanceof HTMLButtonElement) wanted[button.name] = button.value;
    this.ask(wanted);
  }

  // What is clicked in the picture.

  private click(event: Event): void {
    const item = itemOf(event.target);
    if (item === null) return;
    event.preventDefault();
    if (this.dropped) {
      this.dropped = false; // the click that follows a drag
      return;
    }
    if (item.dataset["pause"] !== undefined) this.openPause(item.dataset["pause"] ?? "");
    else this.choose(item.dataset["heat"] ?? "");
  }

  private choose(heat: string): void {
    this.enqueue(async () => {
      await this.fetched(`?heat=${encodeURIComponent(heat)}`, undefined);
      const head = this.place.querySelector<HTMLElement>("#chosen");
      head?.focus({ preventScroll: true });
      // Beside the picture all is in sight; over its foot, on a phone, first what can be done.
      const side = head?.closest<HTMLElement>(".touch-side");
      const within = head?.closest<HTMLElement>(".touch-chosen");
      const narrow = getComputedStyle(this.desk).gridTemplateColumns.split(" ").length === 1;
      side?.scrollTo({ top: narrow ? (within?.offsetTop ?? 0) : 0 }); // the side is positioned
    });
  }

  private openPause(pause: string): void {
    const found = document.getElementById(`pinned-${pause}`);
    if (!(found instanceof HTMLDetailsElement)) return;
    found.open = true;
    found.scrollIntoView({ block: "nearest" });
    found.querySelector<HTMLElement>("input:not([type=hidden])")?.focus();
  }

  // Keys.

  private key(event: KeyboardEvent): void {
    const held = event.ctrlKey || event.metaKey;
    const letter = event.key.toLowerCase();
    const typing = event.target instanceof HTMLElement && event.target.matches("input, select");
    if (held && !typing && (letter === "z" || letter === "y")) {
      event.preventDefault();
      const again = letter === "y" || event.shiftKey;
      this.ask({ do: again ? "redo" : "undo", heat: this.chosen });
      return;
    }
    if (event.key === "Escape" && !typing) {
      this.itemFor(`heat ${this.chosen}`)?.focus();
      return;
    }
    const item = itemOf(event.target);
    if (item === null || held || event.altKey) return;
    const slot = Number(this.desk.dataset["slot"] ?? "60");
    const step: Record<string, number> = {
      ArrowUp: -slot,
      ArrowDown: slot,
      PageUp: -300,
      PageDown: 300,
    };
    const by = step[event.key];
    if (by !== undefined) {
      event.preventDefault();
      this.nudge(item, by, event.shiftKey);
    } else if (event.key === "ArrowLeft" || event.key === "ArrowRight") {
      event.preventDefault();
      this.sideways(item, event.key === "ArrowRight" ? 1 : -1, event.shiftKey);
    } else if (event.key === " ") {
      event.preventDefault();
      item.dispatchEvent(new MouseEvent("click", { bubbles: true, cancelable: true }));
    }
  }

  private nudge(item: SVGElement, by: number, whole: boolean): void {
    if (this.isLocked(item)) return;
    const mark = markOf(item);
    if (this.nudged !== null && (this.nudged.mark !== mark || this.nudged.whole !== whole)) {
      this.sendNudge();
    }
    this.nudged = { mark, by: (this.nudged?.by ?? 0) + by, whole };
    const box = boxOf(item);
    if (box !== null) shift(box, topOf(item) + (this.nudged.by / 60) * this.px());
    const minutes = Math.round(this.nudged.by / 60);
    this.said.textContent = minutes > 0 ? `+${minutes}` : `${minutes}`;
    window.clearTimeout(this.waiting);
    this.waiting = window.setTimeout(() => this.sendNudge(), REST_MS);
  }

  private sendNudge(): void {
    window.clearTimeout(this.waiting);
    const nudged = this.nudged;
    this.nudged = null;
    const item = nudged === null ? null : this.itemFor(nudged.mark);
    if (nudged === null || item === null) return;
    if (nudged.by !== 0) this.ask(moved(item, nudged.by, "", nudged.whole));
  }

  private sideways(item: SVGElement, by: number, whole: boolean): void {
    if (item.dataset["heat"] === undefined || this.isLocked(item)) return;
    const floors = this.floorsBeside(item);
    const own = floors.findIndex((one) => one.dataset["floor"] === item.dataset["floorOf"]);
    const to = floors[own + by];
    if (to !== undefined) this.ask(moved(item, 0, to.dataset["floor"] ?? "", whole));
  }

  // Dragging, with a mouse or a pen; a finger scrolls the page and taps.

  private take(event: PointerEvent): void {
    const item = itemOf(event.target);
    if (item === null || event.pointerType === "touch" || event.button !== 0) return;
    this.dropped = false;
    this.grip = {
      place: item,
      x: event.clientX,
      y: event.clientY,
      top: topOf(item),
      moved: false,
      whole: event.shiftKey,
    };
  }

  private drag(event: PointerEvent): void {
    const grip = this.grip;
    if (grip === null) return;
    const down = event.clientY - grip.y;
    if (!grip.moved && Math.hypot(event.clientX - grip.x, down) < STILL_PX) return;
    grip.moved = true;
    const box = boxOf(grip.place);
    if (box === null) return;
    box.classList.add("dragged");
    shift(box, grip.top + (this.minutes(down) * this.px()));
    const over = this.floorAt(grip.place, event.clientX);
    const own = grip.place.closest<SVGElement>("[data-floor]");
    if (over === null || own === null) return;
    const aside = over.getBoundingClientRect().left - own.getBoundingClientRect().left;
    box.setAttribute("x", grip.place.dataset["heat"] === undefined ? "0" : `${aside}`);
    if (over !== own) own.setAttribute("overflow", "visible");
  }

  private drop(event: PointerEvent): void {
    const grip = this.grip;
    this.grip = null;
    if (grip === null || !grip.moved) return;
    this.dropped = true;
    window.setTimeout(() => (this.dropped = false));
    const by = this.minutes(event.clientY - grip.y) * 60;
    const over = this.floorAt(grip.place, event.clientX)?.dataset["floor"] ?? "";
    const other = over === grip.place.dataset["floorOf"] ? "" : over;
    const floor = grip.place.dataset["heat"] === undefined ? "" : other;
    const box = boxOf(grip.place);
    box?.classList.remove("dragged");
    if (this.isLocked(grip.place) || (by === 0 && floor === "")) {
      this.putBack(grip);
      return;
    }
    this.ask(moved(grip.place, by, floor, grip.whole), () => this.putBack(grip));
  }

  private letGo(): void {
    if (this.grip !== null) this.putBack(this.grip);
    this.grip = null;
  }

  private putBack(grip: Grip): void {
    const box = boxOf(grip.place);
    if (box === null) return;
    box.classList.remove("dragged");
    box.setAttribute("x", "0");
    shift(box, grip.top);
  }

  private minutes(down: number): number {
    const slot = Number(this.desk.dataset["slot"] ?? "60") / 60;
    return Math.round(down / this.px() / slot) * slot;
  }

  private px(): number {
    return Number(this.desk.dataset["px"] ?? "5");
  }

  private floorsBeside(item: SVGElement): SVGElement[] {
    const all = item.closest(".floors");
    return all === null ? [] : [...all.querySelectorAll<SVGElement>("[data-floor]")];
  }

  private floorAt(item: SVGElement, x: number): SVGElement | null {
    const over = this.floorsBeside(item).find((one) => {
      const box = one.querySelector(".touch-floor")?.getBoundingClientRect();
      return box !== undefined && box.left <= x && x <= box.right;
    });
    return over ?? item.closest<SVGElement>("[data-floor]");
  }

  private isLocked(item: SVGElement): boolean {
    const why = item.dataset["locked"];
    if (why !== undefined) this.said.textContent = why;
    return why !== undefined;
  }

  private itemFor(mark: string): SVGElement | null {
    const items = [...this.place.querySelectorAll<SVGElement>("[data-heat], [data-pause]")];
    return items.find((one) => markOf(one) === mark) ?? null;
  }

  // Asking the server, one thing after the other.

  private ask(wanted: Wanted, failed: () => void = () => undefined): void {
    this.enqueue(async () => {
      const { turn = "", token = "" } = this.desk.dataset;
      const body = new URLSearchParams({ ...wanted, turn, form_token: token });
      const heat = wanted["heat"] ?? "";
      if (heat === "") body.set("heat", this.chosen);
      if (!(await this.fetched("", body))) failed();
    });
  }

  private enqueue(work: () => Promise<void>): void {
    this.queue = this.queue.then(work, work);
  }

  private async fetched(query: string, body: URLSearchParams | undefined): Promise<boolean> {
    try {
      const answer = await fetch(`${this.place.dataset["touch"] ?? ""}${query}`, {
        method: body === undefined ? "GET" : "POST",
        ...(body === undefined ? {} : { body }),
        headers: { Accept: "text/html", "HX-Request": "true" },
      });
      const text = await answer.text();
      if (!text.includes("data-touch-desk")) throw new Error(`${answer.status}`);
      this.show(text);
      return answer.ok;
    } catch {
      this.said.textContent = this.place.dataset["lost"] ?? "";
      return false;
    }
  }

  private show(text: string): void {
    const open = new Set(
      [...this.place.querySelectorAll<HTMLElement>("details[open]")].map(
        (one) => one.dataset["key"] ?? "",
      ),
    );
    const reach = this.place.querySelector<HTMLSelectElement>("#reach")?.value;
    const scrolled = this.place.querySelector(".touch-side")?.scrollTop ?? 0;
    const held = document.activeElement;
    const mark = held !== null && this.place.contains(held) ? markOf(held) : "";
    this.place.innerHTML = text;
    this.place.querySelectorAll<HTMLDetailsElement>("details[data-key]").forEach((one) => {
      one.open = open.has(one.dataset["key"] ?? "");
    });
    const select = this.place.querySelector<HTMLSelectElement>("#reach");
    if (select !== null && reach !== undefined) select.value = reach;
    this.place.querySelector(".touch-side")?.scrollTo({ top: scrolled });
    const keys = [...this.place.querySelectorAll<HTMLElement | SVGElement>(MARKED)];
    if (mark !== "") {
      // A button that became another one hands the keyboard on to what it is about.
      const same = keys.find((one) => markOf(one) === mark && !one.matches(":disabled"));
      const next = same ?? this.place.querySelector<HTMLElement>("#chosen");
      (next ?? this.place.querySelector<HTMLElement>("[data-touch-side]"))?.focus({
        preventScroll: true,
      });
    }
    const { said = "", over = "" } = this.desk.dataset;
    if (said !== "") this.said.textContent = `${said} ${over}`;
  }
}

const MARKED = "[data-heat], [data-pause], button, input, select, summary, h2[id]";

// What a thing is in one drawing and the next.
function markOf(one: Element): string {
  if (one instanceof SVGElement) {
    const { heat, pause, floorOf = "" } = one.dataset;
    return heat !== undefined ? `heat ${heat}` : `pause ${pause ?? ""} ${floorOf}`;
  }
  if (one instanceof HTMLButtonElement) return `button ${one.value}`;
  return one.id === "" ? (one.parentElement?.dataset["key"] ?? "") : `#${one.id}`;
}

function itemOf(target: EventTarget | null): SVGElement | null {
  return target instanceof Element
    ? target.closest<SVGElement>("a[data-heat], a[data-pause]")
    : null;
}

function boxOf(item: SVGElement): SVGElement | null {
  return item.querySelector<SVGElement>("svg");
}

function topOf(item: SVGElement): number {
  const box = boxOf(item);
  if (box === null) return 0;
  box.dataset["top"] ??= box.getAttribute("y") ?? "0";
  return Number(box.dataset["top"]);
}

function shift(box: SVGElement, top: number): void {
  box.setAttribute("y", `${top}`);
}

function moved(item: SVGElement, by: number, floor: string, whole: boolean): Wanted {
  const { heat, pause } = item.dataset;
  if (heat === undefined) return { do: `shift ${pause ?? ""}`, by: `${by}` };
  return { do: "move", heat, by: `${by}`, floor, reach: whole ? "block" : "heat" };
}

const place = document.querySelector<HTMLElement>("[data-touch]");
const said = document.querySelector<HTMLElement>("[data-touch-said]");
if (place !== null && said !== null) new Hand(place, said).start();
