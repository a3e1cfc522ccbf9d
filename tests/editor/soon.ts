/** Waiting for what a workbench does in its own time. */
import { expect } from 'vitest';

/** As `expect.poll`, for as long as a busy machine may need: no test waits any longer than what it waits for. */
export function soon<T>(get: () => T) {
  return expect.poll(get, { timeout: 20_000, interval: 50 });
}
