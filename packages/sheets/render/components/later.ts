/** What is out of sight is drawn a little at a time, between one picture of the page and the next, so that none comes late. */
import type { Component } from 'preact';

/** So many rows take some 10 ms, and the browser then as long to lay the table out. */
const ROWS_A_FRAME = 200;

const waiting = new Map<Component, number>();
let asked = false;

/** Drawn again with what it has been given last, when its turn comes. */
export function drawLater(component: Component, rows: number): void {
  waiting.set(component, rows);
  ask();
}

/** It has been drawn, or is gone. */
export function drawnNow(component: Component): void {
  waiting.delete(component);
}

function ask(): void {
  if (asked) return;
  asked = true;
  requestAnimationFrame(() => {
    asked = false;
    let left = ROWS_A_FRAME;
    for (const [component, rows] of waiting) {
      if (left <= 0) break;
      left -= rows;
      waiting.delete(component);
      component.forceUpdate();
    }
    if (waiting.size > 0) ask();
  });
}
