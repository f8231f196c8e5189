// Runs beside the sound: passes samples on as they are, and counts what the browser dropped.
class Tap extends AudioWorkletProcessor {
  constructor() {
    super();
    this.block = new Float32Array(Math.round(sampleRate / 4));
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
    const channel = inputs[0][0];
    if (this.expected !== null && currentFrame !== this.expected) this.gaps += 1;
    this.expected = currentFrame + 128;
    if (!channel) return true;
    let from = 0;
    while (from < channel.length) {
      const take = Math.min(channel.length - from, this.block.length - this.filled);
      this.block.set(channel.subarray(from, from + take), this.filled);
      this.filled += take;
      from += take;
      if (this.filled === this.block.length) this.flush();
    }
    return true;
  }
}
registerProcessor("tap", Tap);
