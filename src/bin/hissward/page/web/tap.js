// Runs beside the sound: passes samples on as they are, channels in turn, and counts what the browser dropped.
class Tap extends AudioWorkletProcessor {
  constructor({ processorOptions: { channels } }) {
    super();
    this.channels = channels;
    this.block = new Float32Array(Math.round(sampleRate / 4) * channels);
    this.filled = 0;
    this.expected = null;
    this.gaps = 0;
    this.port.onmessage = () => { this.flush(); this.port.postMessage({ end: true, gaps: this.gaps }); this.ended = true; };
  }

  flush() {
    if (this.filled === 0) return;
    const samples = this.block.slice(0, this.filled);
    this.filled = 0;
    this.port.postMessage({ samples }, [samples.buffer]);
  }

  process(inputs) {
    if (this.ended) return false;
    const input = inputs[0];
    if (this.expected !== null && currentFrame !== this.expected) this.gaps += 1;
    this.expected = currentFrame + 128;
    if (input.length === 0) return true;
    for (let at = 0; at < input[0].length; at += 1) {
      // A microphone that gives less than it promised: the first stands for the missing one.
      for (let channel = 0; channel < this.channels; channel += 1) this.block[this.filled++] = (input[channel] ?? input[0])[at];
      if (this.filled === this.block.length) this.flush();
    }
    return true;
  }
}
registerProcessor("tap", Tap);
