// The top of the pad: whose lane it is, the clock, what waits to be sent, what is not as it was.

import { button, el } from "./dom.ts";
import type { Waiting } from "./keeping.ts";
import type { LanePad, PadNow, PadOther } from "./work.ts";
import type { Words } from "./words.ts";

export function drawHead(pad: LanePad, words: Words): HTMLElement {
  const heat = words("Heat {n}", { n: pad.heat_number });
  const again = pad.attempt > 1 ? words("attempt {n}", { n: pad.attempt }) : "";
  return el(
    "header",
    { class: "pad-head" },
    el("span", { class: "pad-lane", text: String(pad.lane), label: words("Lane {lane}", { lane: pad.lane }) }),
    el(
      "div",
      { class: "pad-who" },
      el("h1", { text: pad.team_name }),
      el("p", { text: [pad.workout_name, heat, pad.division, again].filter(Boolean).join(" · ") }),
      pad.line_up.length > 0 && el("p", { class: "pad-line-up", text: pad.line_up.join(" · ") }),
    ),
    el(
      "div",
      { class: "pad-time" },
      el("span", { class: "pad-clock", role: "timer" }),
      el("span", { class: "pad-says" }),
    ),
  );
}

/** What of this phone's scores has not arrived; notes go along without being counted here. */
export function drawKept(open: readonly Waiting[], words: Words): HTMLElement {
  const scores = open.filter((one) => one.says !== "");
  const text =
    scores.length === 0
      ? words("Nothing waits to be sent")
      : words("{n} on this phone, waiting to be sent", { n: scores.length });
  return el(
    "p",
    { class: scores.length === 0 ? "pad-kept" : "pad-kept some", role: "status" },
    text,
    el("span", { class: "pad-step" }),
  );
}

export function drawWarnings(
  pad: LanePad,
  now: PadNow | null,
  open: readonly Waiting[],
  words: Words,
): HTMLElement[] {
  const said: string[] = [];
  if (now !== null && now.stopped !== "") {
    said.push(words("The heat was stopped: {why}. The head judge decides what counts.", { why: now.stopped }));
  }
  if (now !== null && now.team !== pad.team) {
    said.push(words("The plan has changed: another team is in this lane now. Ask the desk."));
  }
  const lineUp = now === null ? "" : now.line_up.join(" · ");
  if (now?.team === pad.team && lineUp !== pad.line_up.join(" · ")) {
    const says = lineUp === "" ? words("as entered") : lineUp;
    said.push(words("The line-up has changed: {line_up}", { line_up: says }));
  }
  if (now !== null && now.other_reports > 0) {
    said.push(words("Another phone has sent a score for this lane too."));
  }
  said.push(...new Set(open.map((one) => one.answer).filter((answer) => answer !== "")));
  return said.map((text) => el("p", { class: "pad-warn", text, role: "alert" }));
}

/** Another phone has this lane open: both are told; this one may go on from what that shows. */
export function drawOthers(
  others: readonly PadOther[],
  part: string,
  done: number,
  words: Words,
  goOn: (done: number) => void,
): HTMLElement[] {
  if (others.length === 0) return [];
  const there = others.filter((one) => one.part === part).map((one) => one.done);
  const most = Math.max(0, ...there);
  const text =
    there.length === 0
      ? words("Another phone has this lane open.")
      : words("Another phone has this lane open and shows {n}.", { n: most });
  const key = button(words("Go on from {n}", { n: most }), "line", () => goOn(most));
  return [
    el("section", { class: "pad-warn pad-other", role: "status" }, el("p", { text }), most > done && key),
  ];
}
