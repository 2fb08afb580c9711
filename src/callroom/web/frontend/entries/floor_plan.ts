// Things of the floor plan are moved by finger, mouse or arrow keys. What they move are the
// fields of the form below, which works without this script; nothing is kept until it is sent.

const STEP_MM = 100;
const LEAP_MM = 1000;
const HALF_INCH_MM = 12.7;

const sizes = document.querySelector<HTMLFormElement>("[data-ground-form]");
const drawing = document.querySelector<SVGSVGElement>("[data-drawing]");
const said = document.querySelector<HTMLElement>("[data-moved]");
const hint = document.querySelector<HTMLElement>("[data-drag-hint]");
const feet = sizes?.dataset["feet"] !== undefined;

function typed(mm: number): string {
  if (!feet) return String(mm / 1000);
  const halves = Math.round(mm / HALF_INCH_MM);
  const inches = Math.floor((halves % 24) / 2);
  const half = halves % 2 ? "½" : "";
  const rest = inches || half ? ` ${inches}${half}"` : "";
  return `${Math.floor(halves / 24)}'${rest}`;
}

class Thing {
  private readonly drawn: SVGGElement[];
  private readonly name: string;
  private readonly inputX: HTMLInputElement;
  private readonly inputY: HTMLInputElement;
  private readonly fromX: number;
  private readonly fromY: number;
  private x: number;
  private y: number;

  constructor(
    drawn: SVGGElement[],
    name: string,
    inputX: HTMLInputElement,
    inputY: HTMLInputElement,
  ) {
    this.drawn = drawn;
    this.name = name;
    this.inputX = inputX;
    this.inputY = inputY;
    this.fromX = this.x = Number(inputX.dataset["mm"]);
    this.fromY = this.y = Number(inputY.dataset["mm"]);
    const first = drawn[0];
    if (!first) return;
    first.setAttribute("tabindex", "0");
    first.setAttribute("role", "button");
    first.setAttribute("aria-label", this.place());
    first.addEventListener("keydown", (event) => this.pressed(event));
    for (const part of drawn) {
      part.setAttribute("data-moves", "");
      part.addEventListener("pointerdown", (event) => this.taken(event, part));
    }
  }

  private place(): string {
    const place = said?.dataset["place"] ?? "";
    return place
      .replace("{name}", this.name)
      .replace("{x}", typed(this.x))
      .replace("{y}", typed(this.y));
  }

  private to(x: number, y: number): void {
    this.x = Math.max(Math.round(x / STEP_MM) * STEP_MM, 0);
    this.y = Math.max(Math.round(y / STEP_MM) * STEP_MM, 0);
    this.inputX.value = typed(this.x);
    this.inputY.value = typed(this.y);
    const moved = `translate(${this.x - this.fromX} ${this.y - this.fromY})`;
    for (const part of this.drawn) part.setAttribute("transform", moved);
    this.drawn[0]?.setAttribute("aria-label", this.place());
    if (said) {
      said.hidden = false;
      said.textContent = `${this.place()} ${said.dataset["unsaved"] ?? ""}`;
    }
  }

  private pressed(event: KeyboardEvent): void {
    const far = event.shiftKey ? LEAP_MM : STEP_MM;
    const moves: Record<string, readonly [number, number]> = {
      ArrowLeft: [-far, 0],
      ArrowRight: [far, 0],
      ArrowUp: [0, -far],
      ArrowDown: [0, far],
    };
    const move = moves[event.key];
    if (!move) return;
    event.preventDefault();
    this.to(this.x + move[0], this.y + move[1]);
  }

  private taken(event: PointerEvent, part: SVGGElement): void {
    const matrix = drawing?.getScreenCTM();
    if (!matrix || event.button !== 0) return;
    event.preventDefault();
    const { x, y } = this;
    const follow = (now: PointerEvent): void =>
      this.to(
        x + (now.clientX - event.clientX) / matrix.a,
        y + (now.clientY - event.clientY) / matrix.d,
      );
    part.setPointerCapture(event.pointerId);
    part.addEventListener("pointermove", follow);
    for (const over of ["pointerup", "pointercancel"] as const) {
      part.addEventListener(over, () => part.removeEventListener("pointermove", follow), {
        once: true,
      });
    }
  }
}

if (sizes && drawing && hint) {
  drawing.setAttribute("role", "group");
  hint.hidden = false;
  for (const row of sizes.querySelectorAll<HTMLElement>("[data-row]")) {
    const about = row.dataset["row"] ?? "";
    const parts = [...drawing.querySelectorAll<SVGGElement>(`[data-thing="${CSS.escape(about)}"]`)];
    const inputX = row.querySelector<HTMLInputElement>('input[name$="-x"][data-mm]');
    const inputY = row.querySelector<HTMLInputElement>('input[name$="-y"][data-mm]');
    if (parts.length && inputX && inputY) {
      new Thing(parts, row.dataset["name"] ?? "", inputX, inputY);
    }
  }
}
