// Whether a finger is on the page. A key that is drawn anew between the finger's coming and its
// going is not pressed, so whoever draws waits until the touch is over.

// The press of a key comes a moment after the finger is lifted.
const AFTER_MS = 30;

const fingers = new Set<number>();
const waiting = new Set<() => void>();

addEventListener("pointerdown", (event) => fingers.add(event.pointerId), true);
for (const over of ["pointerup", "pointercancel"] as const) {
  addEventListener(over, (event) => void setTimeout(() => lift(event.pointerId), AFTER_MS), true);
}

export function touching(): boolean {
  return fingers.size > 0;
}

/** Do it now, or when no finger is on the page any more; the same thing only once. */
export function whenUntouched(act: () => void): void {
  if (touching()) waiting.add(act);
  else act();
}

function lift(finger: number): void {
  fingers.delete(finger);
  if (touching()) return;
  const due = [...waiting];
  waiting.clear();
  for (const act of due) act();
}
