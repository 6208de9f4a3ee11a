// A spoken note: recorded here, or a file that was chosen. It goes to this computer's own desk alone.

import { alertText, send } from "./api.js";
import { at } from "./build.js";
import * as words from "./words.js";

/** The server's id of the note, once there is one. */
let note = null;
let recorder = null;
let ticking = null;

export const voiceId = () => note?.id ?? null;

function paint() {
  const recording = recorder !== null;
  at("voice-record").textContent = recording ? words.voice.stop : words.voice.record;
  at("voice-record").setAttribute("aria-pressed", String(recording));
  at("voice-file").disabled = recording;
  at("voice-off").hidden = !note;
  at("voice-play").hidden = !note;
  if (note) at("voice-play").src = `/api/1/voices/${note.id}`;
  else at("voice-play").removeAttribute("src");
  at("voice-text").textContent = note ? words.voice.has(note.seconds) : "";
}

async function take(blob) {
  alertText(null);
  const taken = await send("/voices", blob);
  if (taken) note = taken;
  paint();
}

async function record() {
  if (recorder) return recorder.stop();
  if (!navigator.mediaDevices || !window.MediaRecorder) return alertText(words.voice.cannot);
  let stream;
  try {
    stream = await navigator.mediaDevices.getUserMedia({ audio: true });
  } catch {
    return alertText(words.voice.noMicrophone);
  }
  const pieces = [];
  const began = performance.now();
  recorder = new MediaRecorder(stream);
  recorder.addEventListener("dataavailable", (event) => pieces.push(event.data));
  recorder.addEventListener("stop", () => {
    stream.getTracks().forEach((track) => track.stop());
    clearInterval(ticking);
    const blob = new Blob(pieces, { type: recorder.mimeType });
    recorder = null;
    take(blob);
  });
  recorder.start();
  note = null;
  paint();
  const tick = () => (at("voice-text").textContent = words.voice.recording((performance.now() - began) / 1000));
  tick();
  ticking = setInterval(tick, 1000);
}

export function start() {
  at("voice-record").addEventListener("click", record);
  at("voice-file").addEventListener("change", () => {
    const [file] = at("voice-file").files;
    if (file) take(file);
  });
  at("voice-off").addEventListener("click", () => {
    note = null;
    at("voice-file").value = "";
    paint();
  });
  paint();
}
