// Keeps a workout's draft while it is typed, and shows what it would be. Without this script
// the form does the same on a press of its buttons.

const REST_MS = 350; // long enough for the next digit, short enough to feel at once
const AGAIN_MS = 4_000;

class Builder {
  private readonly form: HTMLFormElement;
  private readonly preview: HTMLElement;
  private readonly state: HTMLElement;
  private waiting = 0;
  private asked = 0;

  constructor(form: HTMLFormElement, preview: HTMLElement, state: HTMLElement) {
    this.form = form;
    this.preview = preview;
    this.state = state;
  }

  start(): void {
    this.form.addEventListener("input", () => this.soon(REST_MS));
    this.form.addEventListener("submit", () => {
      window.clearTimeout(this.waiting);
      this.asked += 1;
    });
  }

  private soon(rest: number): void {
    window.clearTimeout(this.waiting);
    this.waiting = window.setTimeout(() => void this.keep(), rest);
  }

  private async keep(): Promise<void> {
    const mine = ++this.asked;
    this.say("works");
    const typed = new URLSearchParams();
    new FormData(this.form).forEach((value, name) => {
      if (typeof value === "string") typed.append(name, value);
    });
    try {
      const answer = await fetch(this.form.dataset["draft"] ?? "", {
        method: "POST",
        body: typed,
        headers: { Accept: "text/html", "HX-Request": "true" },
      });
      const text = await answer.text();
      if (mine !== this.asked) return; // something newer was typed meanwhile
      if (!answer.ok) throw new Error(text);
      this.show(text);
      this.say("kept");
    } catch {
      if (mine !== this.asked) return;
      this.say("lost");
      this.soon(AGAIN_MS);
    }
  }

  private show(text: string): void {
    const open = new Set(
      [...this.preview.querySelectorAll<HTMLElement>("details[open]")].map(
        (one) => one.dataset["key"] ?? "",
      ),
    );
    this.preview.innerHTML = text;
    this.preview.querySelectorAll<HTMLDetailsElement>("details[data-key]").forEach((one) => {
      one.open = open.has(one.dataset["key"] ?? "");
    });
    this.offerWays();
    this.mark();
  }

  // Another movement has other variations; those of one that stayed keep what was chosen.
  private offerWays(): void {
    this.preview.querySelectorAll<HTMLTemplateElement>("template[data-ways]").forEach((offer) => {
      const path = offer.dataset["ways"] ?? "";
      const place = [...this.form.querySelectorAll<HTMLElement>("[data-ways]")].find(
        (one) => one.dataset["ways"] === path,
      );
      const movement = offer.dataset["movement"] ?? "";
      if (place === undefined || place.dataset["movement"] === movement) return;
      place.replaceChildren(offer.content.cloneNode(true));
      place.dataset["movement"] = movement;
    });
  }

  // Puts every fault at the field it concerns, and takes away those that are mended.
  private mark(): void {
    this.form.querySelectorAll<HTMLElement>(".fault").forEach((place) => {
      place.textContent = "";
      place.hidden = true;
    });
    this.form
      .querySelectorAll("[aria-invalid]")
      .forEach((field) => field.removeAttribute("aria-invalid"));
    this.preview.querySelectorAll<HTMLElement>("[data-field]").forEach((said) => {
      const name = said.dataset["field"] ?? "";
      const place = document.getElementById(`${name}-fault`);
      if (place === null || place.textContent !== "") return;
      place.textContent = said.textContent;
      place.hidden = false;
      document.getElementById(name)?.setAttribute("aria-invalid", "true");
    });
  }

  private say(what: string): void {
    this.state.textContent = this.form.dataset[what] ?? "";
  }
}

const form = document.querySelector<HTMLFormElement>("form[data-builder]");
const preview = document.querySelector<HTMLElement>("[data-builder-preview]");
const state = document.querySelector<HTMLElement>("[data-builder-state]");
if (form !== null && preview !== null && state !== null) {
  new Builder(form, preview, state).start();
}
