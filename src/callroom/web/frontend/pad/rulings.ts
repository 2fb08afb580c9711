// Rulings that a judge has yet to read. That they were read is kept on the phone and sent like
// a score, so a ruling goes away at once and does not come back while the network is gone.

import { button, el } from "./dom.ts";
import type { Waiting } from "./keeping.ts";
import type { PadRuling } from "./work.ts";
import type { Words } from "./words.ts";

const KIND = "ruling.acknowledged";

export function acknowledgement(ruling: PadRuling): string {
  return JSON.stringify({ kind: KIND, data: { number: ruling.number, seen_seq: ruling.seq } });
}

/** The rulings that nobody has read on this phone yet, whether or not the server knows. */
export function unread(rulings: readonly PadRuling[], kept: readonly Waiting[]): PadRuling[] {
  const read = new Set(kept.map((one) => one.body));
  return rulings.filter((ruling) => !read.has(acknowledgement(ruling)));
}

export function drawRuling(
  ruling: PadRuling,
  words: Words,
  understood: (ruling: PadRuling) => void,
): HTMLElement {
  const facts = { n: ruling.number };
  const title = words(ruling.withdrawn ? "Ruling {n} no longer holds" : "Ruling {n}", facts);
  return el(
    "section",
    { class: "pad-ruling", label: title },
    el("h2", { text: ruling.about === "" ? title : `${title} · ${ruling.about}` }),
    el("p", { text: ruling.question }),
    el("p", { class: "pad-answer", text: ruling.answer }),
    button(words("Understood"), "finish", () => understood(ruling)),
  );
}
