// Beeps. A browser lets a page sound only after somebody touched it, so a button turns it on.

import type { Sign } from "./signals.ts";

// High enough to be heard through a hall full of weights, where a phone's small speaker is loud.
const SHORT_HZ = 880;
const LONG_HZ = 1320;

export class Beeper {
  private audio: AudioContext | null = null;

  get on(): boolean {
    return this.audio !== null;
  }

  /** To be called from a touch. */
  async turn(): Promise<boolean> {
    if (this.audio !== null) {
      await this.audio.close();
      this.audio = null;
      return false;
    }
    this.audio = new AudioContext();
    await this.audio.resume();
    this.tone(SHORT_HZ, 0, 0.12);
    return true;
  }

  give(sign: Sign): void {
    if (sign === "short") this.tone(SHORT_HZ, 0, 0.15);
    else this.tone(LONG_HZ, 0, 0.7);
    if (sign === "end") this.tone(LONG_HZ, 0.9, 0.7);
  }

  private tone(hertz: number, in_s: number, length_s: number): void {
    const { audio } = this;
    if (audio === null) return;
    const swing = audio.createOscillator();
    const volume = audio.createGain();
    const at = audio.currentTime + in_s;
    swing.type = "square";
    swing.frequency.value = hertz;
    volume.gain.setValueAtTime(0.5, at);
    volume.gain.setTargetAtTime(0, at + length_s, 0.02);
    swing.connect(volume).connect(audio.destination);
    swing.start(at);
    swing.stop(at + length_s + 0.2);
  }
}
