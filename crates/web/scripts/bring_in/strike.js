// The listener's worklet: tells the page when a strike is heard.

import { Onset } from "./onset.js";

class Strike extends AudioWorkletProcessor {
  constructor() {
    super();
    this.onset = new Onset(sampleRate);
  }

  /** @param {Float32Array[][]} inputs */
  process(inputs) {
    const samples = inputs[0]?.[0];
    if (samples && this.onset.push(samples)) this.port.postMessage(currentTime);
    return true;
  }
}

registerProcessor("strike", Strike);
