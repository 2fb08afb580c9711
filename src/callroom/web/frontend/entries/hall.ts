// A floor's clock for the whole hall: huge digits, signs heard and seen, nothing to be touched.

import "./live.ts";
import { onSign } from "../clock/running.ts";
import { Beeper } from "../clock/sound.ts";

const beeper = new Beeper();
onSign((sign) => beeper.give(sign));

for (const key of document.querySelectorAll<HTMLButtonElement>("[data-sound]")) {
  key.hidden = false;
  key.addEventListener("click", () => {
    void beeper.turn().then((on) => key.setAttribute("aria-pressed", String(on)));
  });
}
for (const key of document.querySelectorAll<HTMLButtonElement>("[data-full]")) {
  key.hidden = !document.fullscreenEnabled;
  key.addEventListener("click", () => {
    if (document.fullscreenElement === null) void document.documentElement.requestFullscreen();
    else void document.exitFullscreen();
  });
}
