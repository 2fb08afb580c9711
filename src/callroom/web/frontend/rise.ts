// Lets the figure of what was raised climb to what it has become, for those who watch it.

const CLIMB_MS = 1_600;
const NUMBER = /\d[\d\u202f]*/;

// What the figure in `place` stands at, to be asked before its content is replaced.
export function figureIn(place: HTMLElement): number | null {
  const shown = place.querySelector<HTMLElement>("[data-rise]");
  return shown === null ? null : Number(shown.dataset["rise"]);
}

// Counts up from where the figure stood; whoever wants no motion sees the new figure at once.
export function climb(place: HTMLElement, from: number | null): void {
  const shown = place.querySelector<HTMLElement>("[data-rise]");
  if (shown === null || from === null) return;
  const to = Number(shown.dataset["rise"]);
  const unit = Number(shown.dataset["unit"]);
  if (to <= from || matchMedia("(prefers-reduced-motion: reduce)").matches) return;
  const goal = shown.textContent ?? "";
  const begun = performance.now();
  const step = (now: number): void => {
    const share = Math.min(Math.max((now - begun) / CLIMB_MS, 0), 1);
    const eased = 1 - (1 - share) ** 3;
    const value = Math.floor((from + (to - from) * eased) / unit);
    shown.textContent = share < 1 ? goal.replace(NUMBER, grouped(value)) : goal;
    if (share < 1 && shown.isConnected) requestAnimationFrame(step);
  };
  requestAnimationFrame(step);
}

function grouped(value: number): string {
  return String(value).replace(/\B(?=(\d{3})+$)/g, "\u202f");
}
