// What is needed seldom: the count or the time typed, another judge, a team that stops.

import { button, el } from "./dom.ts";
import type { Sight } from "./sight.ts";
import type { Tally } from "./tally.ts";

export function more(sight: Sight, tally: Tally): HTMLElement {
  const { part, hands, words, zero, marks, looks } = sight;
  const stop = (why: "absent" | "withdrew" | "medical") => () => {
    looks.more = false;
    hands.mark({ does: "stop", at: hands.now(), why });
  };
  const box = el("div", { class: "pad-more" });
  if (zero === null && part.kind !== "load") {
    box.append(
      button(words("Start my own clock now"), "line", () =>
        hands.mark({ does: "start", at: hands.now() }),
      ),
    );
  }
  if (part.kind !== "load") box.append(typedCount(sight));
  if (part.kind === "time" && tally.stopped === null) box.append(typedTime(sight));
  box.append(
    button(words("Another judge takes over"), "thin", () => {
      looks.more = false;
      hands.mark({ does: "judge", at: hands.now() });
    }),
    button(words("The server has moved"), "thin", hands.moved),
    button(words("Did not start"), "thin", stop("absent")),
    button(words("Gave up"), "thin", stop("withdrew")),
    button(words("Stopped for a medical reason"), "thin", stop("medical")),
  );
  if (part.kind === "time" && marks.length > 0) {
    box.append(
      button(words("Time is up: hand in the count"), "line", () => {
        looks.sending = true;
        hands.redraw();
      }),
    );
  }
  return box;
}

function typedCount(sight: Sight): HTMLElement {
  return typed("numeric", sight.words("The whole count"), sight.words("Set the whole count"), (text) => {
    if (!/^\d{1,6}$/.test(text)) return false;
    sight.looks.more = false;
    sight.hands.mark({ does: "total", at: sight.hands.now(), total: Number(text) });
    return true;
  });
}

/** A finish read from the hall's clock, where this phone could not stamp it. */
function typedTime(sight: Sight): HTMLElement {
  return typed("text", sight.words("The time, like 7:32"), sight.words("Set the time"), (text) => {
    const time_ms = readTime(text);
    if (time_ms === null || time_ms > sight.part.cap_ms) return false;
    sight.looks.more = false;
    sight.hands.mark({ does: "finish", at: sight.hands.now(), time_ms });
    return true;
  });
}

/** "7:32", "7:32.4" or "732" as milliseconds; null if it is no time. */
export function readTime(text: string): number | null {
  const clock = /^(\d{1,3}):(\d{2})(?:[.,](\d{1,3}))?$/.exec(text);
  const digits = /^(\d{0,3})(\d{2})$/.exec(text);
  const found = clock ?? digits;
  if (found === null) return null;
  const seconds = Number(found[2]);
  if (seconds > 59) return null;
  return (Number(found[1]) * 60 + seconds) * 1000 + Number((found[3] ?? "").padEnd(3, "0"));
}

function typed(
  mode: string,
  label: string,
  key: string,
  take: (text: string) => boolean,
): HTMLElement {
  const input = el("input", { class: "pad-load" });
  input.inputMode = mode;
  input.autocomplete = "off";
  input.setAttribute("aria-label", label);
  const set = () => {
    if (!take(input.value.trim())) {
      input.classList.add("wrong");
      input.focus();
    }
  };
  return el("div", { class: "pad-row" }, input, button(key, "line", set));
}
