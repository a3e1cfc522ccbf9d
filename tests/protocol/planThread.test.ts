/** The thread that plans: kept from one plan to the next, and never in the way of one. Here by a thread that only does what it is told. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { PlanWork } from '../../packages/server/planHere';
import { planOnThread } from '../../packages/server/planOnThread';

const THREAD = `
const { parentPort, threadId } = require('node:worker_threads');
parentPort.on('message', (work) => {
  if (work === 'hang') for (;;);
  if (work === 'crash') setTimeout(() => { throw new Error('crashed'); });
  else if (work === 'end') process.exit(0);
  else if (work === 'refuse') parentPort.postMessage({ kind: 'refused', why: 'refused' });
  else {
    parentPort.postMessage({ kind: 'doing', done: 0.5 });
    parentPort.postMessage({ kind: 'made', made: threadId });
    if (work === 'crash when done') setTimeout(() => { throw new Error('crashed'); });
  }
});
`;

describe('the thread that plans', () => {
  const folder = mkdtempSync(join(tmpdir(), 'earloom-'));
  const file = join(folder, 'thread.cjs');
  beforeAll(() => writeFileSync(file, THREAD));
  afterAll(() => rmSync(folder, { recursive: true }));

  const asked = (planner: ReturnType<typeof planOnThread>, work: string, signal = new AbortController().signal) =>
    planner(work as unknown as PlanWork, signal, () => {});
  const soon = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

  it('makes the next plan, too, also after it has refused one', async () => {
    const planner = planOnThread(file);
    const first = await asked(planner, 'plan');
    expect(await asked(planner, 'plan')).toBe(first);
    await expect(asked(planner, 'refuse')).rejects.toThrow('refused');
    expect(await asked(planner, 'plan')).toBe(first);
  });

  it('says how far it is', async () => {
    const told: number[] = [];
    await planOnThread(file)('plan' as unknown as PlanWork, new AbortController().signal, (done) => told.push(done));
    expect(told).toEqual([0.5]);
  });

  it('is ended where nobody waits, and the next plan has another', async () => {
    const planner = planOnThread(file);
    const first = await asked(planner, 'plan');
    const end = new AbortController();
    const hanging = asked(planner, 'hang', end.signal);
    setTimeout(() => end.abort(new Error('not wanted')), 20);
    await expect(hanging).rejects.toThrow('not wanted');
    expect(await asked(planner, 'plan')).not.toBe(first);
  });

  it.each(['crash', 'end'])('has another for the next plan after a %s', async (work) => {
    const planner = planOnThread(file);
    const first = await asked(planner, 'plan');
    await expect(asked(planner, work)).rejects.toThrow(work === 'crash' ? 'crashed' : 'has ended');
    expect(await asked(planner, 'plan')).not.toBe(first);
  });

  it('may crash when it has nothing to do, or be ended after a while', async () => {
    for (const [planner, work] of [
      [planOnThread(file), 'crash when done'],
      [planOnThread(file, 1), 'plan'],
    ] as const) {
      const first = await asked(planner, work);
      await soon(300);
      expect(await asked(planner, 'plan')).not.toBe(first);
    }
  });

  it('has a second one beside it for what is wanted meanwhile, and nothing is mixed up', async () => {
    const planner = planOnThread(file);
    const [one, other] = await Promise.all([asked(planner, 'plan'), asked(planner, 'plan')]);
    expect(one).not.toBe(other);
  });

  it('is not started for what nobody wants any more', async () => {
    await expect(asked(planOnThread(file), 'plan', AbortSignal.abort(new Error('not wanted')))).rejects.toThrow('not wanted');
  });
});
