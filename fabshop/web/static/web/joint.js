// Counts a purge down on the phone; without this the slip says when it ends.
"use strict";

const beep = () => {
  try {
    const sound = new AudioContext();
    const tone = sound.createOscillator();
    tone.connect(sound.destination);
    tone.start();
    tone.stop(sound.currentTime + 0.6);
  } catch {
    // A phone that may not make a sound still shows the time.
  }
};

for (const mark of document.querySelectorAll("[data-until]")) {
  const until = Date.parse(mark.dataset.until);
  const timer = setInterval(() => {
    const left = Math.ceil((until - Date.now()) / 1000);
    if (left > 0) {
      mark.textContent = `${Math.floor(left / 60)}:${String(left % 60).padStart(2, "0")}`;
      return;
    }
    clearInterval(timer);
    mark.textContent = "over";
    beep();
  }, 1000);
}
