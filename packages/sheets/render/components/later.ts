/** What is out of sight is drawn a little at a time, between one picture of the page and the next, so that none comes late. */
import type { Component } from 'preact';

/** In ms, of each picture; the browser then takes as long again to lay out what has been drawn. */
const MOST_A_FRAME = 8;

const waiting = new Set<Component>();
let asked = false;

/** Drawn again with what it has been given last, when its turn comes. */
export function drawLater(component: Component): void {
  waiting.add(component);
  ask();
}

/** It has been drawn, or is gone. */
export function drawnNow(component: Component): void {
  waiting.delete(component);
}

function ask(): void {
  if (asked) return;
  asked = true;
  requestAnimationFrame(async () => {
    asked = false;
    const begun = performance.now();
    for (const component of waiting) {
      waiting.delete(component);
      component.forceUpdate();
      // It is drawn as soon as this waits.
      await undefined;
      if (performance.now() - begun > MOST_A_FRAME) break;
    }
    if (waiting.size > 0) ask();
  });
}
