// The microphone: processing asked off, and looked whether it is.
let held = null;

const OFF = { echoCancellation: false, noiseSuppression: false, autoGainControl: false };
const NAMES = { echoCancellation: "echo", noiseSuppression: "noise", autoGainControl: "gain" };

export async function microphone() {
  if (held && held.track.readyState === "live" && held.context.state !== "closed") {
    await held.context.resume();
    return held;
  }
  if (!navigator.mediaDevices) throw new Error("insecure");
  // Both microphones and the highest rate there is: two tell near from far, and a jet goes on rising above hearing.
  const stream = await navigator.mediaDevices.getUserMedia({ audio: { ...OFF, channelCount: { ideal: 2 }, sampleRate: { ideal: 192000 } } });
  const [track] = stream.getAudioTracks();
  const settings = track.getSettings();
  // What the phone does not tell cannot be trusted to be off.
  const processing = Object.keys(OFF).filter((key) => settings[key] === true || (typeof settings[key] === "string" && settings[key] !== "none"))
    .map((key) => NAMES[key]);
  if (Object.keys(OFF).every((key) => settings[key] === undefined)) processing.push("unknown");
  let context;
  let source;
  try {
    // At the microphone's own rate nothing is resampled.
    context = new AudioContext(settings.sampleRate ? { sampleRate: settings.sampleRate } : {});
    source = context.createMediaStreamSource(stream);
  } catch {
    context = new AudioContext();
    source = context.createMediaStreamSource(stream);
  }
  await context.audioWorklet.addModule("/web/tap.js");
  await context.resume();
  held = { stream, track, context, source, processing, name: track.label || "phone", rate: context.sampleRate, channels: settings.channelCount === 2 ? 2 : 1 };
  return held;
}

export async function record(onSamples, onLost) {
  const mic = await microphone();
  const options = { numberOfOutputs: 0, channelCount: mic.channels, channelCountMode: "explicit", channelInterpretation: "discrete",
    processorOptions: { channels: mic.channels } };
  const tap = new AudioWorkletNode(mic.context, "tap", options);
  let ended;
  const end = new Promise((done) => { ended = done; });
  tap.port.onmessage = ({ data }) => (data.end ? ended(data.gaps) : onSamples(data.samples));
  const lost = () => onLost();
  mic.track.addEventListener("ended", lost);
  mic.source.connect(tap);
  return {
    mic,
    async stop() {
      mic.track.removeEventListener("ended", lost);
      tap.port.postMessage("stop");
      // A context that the system stopped answers no more: what came is kept.
      const gaps = await Promise.race([end, new Promise((done) => setTimeout(() => done(1), 1500))]);
      mic.source.disconnect(tap);
      return gaps;
    },
  };
}

// A soft beep below the bands in which hiss is looked for.
export function beep(context, high) {
  const [tone, gain] = [context.createOscillator(), context.createGain()];
  const now = context.currentTime;
  tone.frequency.value = high ? 440 : 330;
  gain.gain.setValueAtTime(0, now);
  gain.gain.linearRampToValueAtTime(0.2, now + 0.01);
  gain.gain.linearRampToValueAtTime(0, now + 0.07);
  tone.connect(gain).connect(context.destination);
  tone.start(now);
  tone.stop(now + 0.08);
}
