// Making elements, shortly.

type Child = Node | string | null | false;

interface Made {
  readonly class?: string;
  readonly text?: string;
  readonly type?: string;
  readonly press?: () => void;
  readonly disabled?: boolean;
  readonly pressed?: boolean;
  readonly role?: string;
  readonly label?: string;
}

export function el<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  made: Made = {},
  ...children: readonly Child[]
): HTMLElementTagNameMap[K] {
  const element = document.createElement(tag);
  if (made.class !== undefined) element.className = made.class;
  if (made.text !== undefined) element.textContent = made.text;
  if (made.role !== undefined) element.setAttribute("role", made.role);
  if (made.label !== undefined) element.setAttribute("aria-label", made.label);
  if (made.pressed !== undefined) element.setAttribute("aria-pressed", String(made.pressed));
  if (element instanceof HTMLButtonElement) {
    element.type = "button";
    element.disabled = made.disabled ?? false;
    if (made.press !== undefined) element.addEventListener("click", made.press);
  }
  for (const child of children) if (child !== null && child !== false) element.append(child);
  return element;
}

export function button(text: string, kind: string, press: () => void, disabled = false) {
  return el("button", { class: `pad-key ${kind}`, text, press, disabled });
}

/** "4:07" or "12:30.4", from milliseconds; never below nought. */
export function clockText(ms: number, tenths = false): string {
  const whole = Math.max(0, Math.floor(ms / 1000));
  const text = `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
  return tenths ? `${text}.${Math.floor((Math.max(0, ms) % 1000) / 100)}` : text;
}
