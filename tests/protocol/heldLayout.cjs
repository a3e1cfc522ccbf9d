/**
 * Preloaded into a server and its threads: it notes each layout that is begun in the file BEGUN, and holds up the thread that it is
 * begun on as long as there is a file HELD.
 */
const { appendFileSync, existsSync } = require('node:fs');
const Elk = require('../../dist/layout.cjs');

const PAUSE_MS = 20;
const pause = new Int32Array(new SharedArrayBuffer(4));
const { layout } = Elk.prototype;

Elk.prototype.layout = function (...graph) {
  appendFileSync(process.env.BEGUN, '.');
  while (existsSync(process.env.HELD)) Atomics.wait(pause, 0, 0, PAUSE_MS);
  return layout.apply(this, graph);
};
