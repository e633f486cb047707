// One sign for yes, one for no, and a screen that stays awake through the shift.

let sound = null;

function tone(hertz, seconds) {
  try {
    sound ??= new AudioContext();
    const voice = sound.createOscillator();
    const loud = sound.createGain();
    loud.gain.value = 0.08;
    voice.frequency.value = hertz;
    voice.connect(loud).connect(sound.destination);
    voice.start();
    voice.stop(sound.currentTime + seconds);
  } catch {
    // no sound on this tablet: the page shows it
  }
}

export function yes() {
  tone(880, 0.09);
  navigator.vibrate?.(60);
}

export function no() {
  tone(180, 0.35);
  navigator.vibrate?.([80, 60, 80]);
}

export function stayAwake() {
  const ask = () => document.visibilityState === "visible" && navigator.wakeLock?.request("screen").catch(() => {});
  document.addEventListener("visibilitychange", ask);
  ask();
}
