// The server has moved: another laptop carries on. The judge types its code once; the phone goes
// there with everything it has not sent and every count it is in the middle of.

import { readAddress } from "./address.ts";
import { button, el } from "./dom.ts";
import { written, type Parcel } from "./parcel.ts";
import type { Looks } from "./sight.ts";
import type { Words } from "./words.ts";

// Browsers take longer links than this; a day's counts of a phone are a tenth of it.
const LONGEST = 1_500_000;

export function movedForm(
  words: Words,
  looks: Looks,
  parcel: () => Promise<Parcel>,
): HTMLElement {
  const input = el("input", { class: "pad-load pad-address" });
  input.autocomplete = "off";
  input.value = looks.address;
  input.addEventListener("input", () => {
    looks.address = input.value;
  });
  input.setAttribute("autocapitalize", "characters");
  input.setAttribute("aria-label", words("The code or address of the new server"));
  const go = () => {
    const origin = readAddress(input.value);
    if (origin === null) {
      input.classList.add("wrong");
      input.focus();
      return;
    }
    void parcel().then((packed) => {
      // Old counts stay behind before anything that waits does.
      const whole = written(packed);
      const link = whole.length <= LONGEST ? whole : written({ ...packed, logs: packed.logs.slice(-4) });
      globalThis.location.href = `${origin}/carry#${link}`;
    });
  };
  return el(
    "section",
    { class: "pad-moved" },
    el("p", { text: words("Another laptop carries on? Type its code. All that waits here goes along.") }),
    el("div", { class: "pad-row" }, input, button(words("Go there"), "line", go)),
  );
}
