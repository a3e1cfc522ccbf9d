/** A rig solved part by part is as the whole solved at once; and what is kept from before an edit is as what is worked out afresh. */
import { readFileSync } from 'node:fs';
import { EmptyFileSystem, URI } from 'langium';
import { expect, test } from 'vitest';
import { type Arrival, type Examined, examine, examineEdited, type Joint, type Line } from '#engine';
import { RigLoader } from '#language';
import { type Rig, sharing } from '#rig';
import { corpus } from '../fuzz/corpus';
import { randomOf, spoilt } from '../fuzz/mutate';
import { generateRig, randomFrom } from '../generate';
import { cases, some } from '../thorough';

const SPOILT = cases(500, 30);
const { texts } = corpus('.');
const looked = some(texts, 60);
const loader = new RigLoader(EmptyFileSystem.fileSystemProvider(), URI.parse('memory:///parts/'));
let read = 0;

async function rigOf(text: string): Promise<Rig> {
  const uri = URI.parse(`memory:///parts/${read++}.rig`);
  const document = await loader.loadText(text, uri);
  const { rig } = loader.services.rig.Analyser.of(document).lowered;
  loader.services.shared.workspace.LangiumDocuments.deleteDocument(uri);
  return rig;
}

function* spoiltTexts(seed: number, count: number): Generator<string> {
  for (let index = 0; index < count; index++) yield spoilt(texts, randomOf(seed, index));
}

const joint = ({ from, to, runs, clashes }: Joint) => [from.key, to.key, runs.map(({ id }) => id), clashes];
const line = ({ run, index, signal, channel, joints, start, end, open }: Line) => [
  run.id,
  index,
  signal,
  channel,
  joints.map(joint),
  start?.key,
  end?.key,
  open.map(({ key }) => key),
];

/** All that what is found hangs on. */
function pictures(examined: Examined): Readonly<Record<string, unknown>> {
  const { network, leads, levels, supplies, buses, latencies, hearings, impact, metalPaths, found } = examined;
  return {
    lines: network.lines.map(line),
    joints: network.joints.map(joint),
    snags: network.snags.length,
    leads: JSON.stringify(leads.map(({ joint: _, ...lead }) => lead)),
    arrivals: levels.arrivals.map(figures),
    onTheWay: network.joints.map((each) => levels.at(each)?.typicalDbu),
    phantom: supplies.needy.map(({ piece, volts, suppliers }) => [piece.id, volts, suppliers.map((way) => line(way.line))]),
    latencies: JSON.stringify(latencies.map(({ performer, source, mix, ...late }) => [performer.id, source.id, mix.id, late])),
    hearings: hearings.map(({ run, driver, highestDbSpl, lossDb }) => [run.id, driver.key, highestDbSpl, lossDb]),
    house: impact.lines.map(({ run, how, parted, causes, lossDb }) => [run.id, how, parted, causes.map(({ kind }) => kind), lossDb]),
    metal: metalPaths.map(({ joints, earth }) => [earth.id, joints.map(joint)]),
    buses: JSON.stringify(buses.all.map(({ sides }) => sides)),
    found: JSON.stringify(found),
  };
}

test('what is found part by part is what is found at once', { timeout: 600_000 }, async () => {
  for (const text of [...looked, ...spoiltTexts(1, SPOILT)]) {
    const rig = await rigOf(text);
    expect(pictures(examineEdited(rig, undefined)), text).toEqual(pictures(examine(rig)));
  }
});

/** Something of a rig is gone, moved, or otherwise than it was; as plain data, so that nothing of it is the same thing as before. */
function edited(rig: Rig, random: () => number): Rig {
  const at = <T>(all: readonly T[]) => all[Math.floor(random() * all.length)];
  const without = <T>(all: readonly T[]) => all.filter((each) => each !== gone || all.length === 0);
  const all: readonly unknown[] = [
    ...rig.inputs,
    ...rig.house,
    ...rig.outputs,
    ...rig.sources.values(),
    ...rig.mixes.values(),
    ...rig.performers.values(),
  ];
  const gone = at(all);
  const kept = <T>(map: ReadonlyMap<string, T>) => new Map([...map].filter(([, each]) => each !== gone));
  const left: Rig = {
    ...rig,
    inputs: without(rig.inputs),
    house: without(rig.house),
    outputs: without(rig.outputs),
    sources: kept(rig.sources),
    mixes: kept(rig.mixes),
    performers: kept(rig.performers),
  };
  const input = at(left.inputs);
  const changed: readonly Rig[] = [
    left,
    { ...rig, house: rig.house.toReversed() },
    { ...rig, pieces: new Map([...rig.pieces].reverse()) },
    { ...rig, sources: new Map([...rig.sources].reverse()) },
    { ...rig, settings: { ...rig.settings, headroomDb: rig.settings.headroomDb + 3 } },
    { ...rig, inputs: rig.inputs.map((each) => (each === input ? { ...each, gainDb: Math.round(random() * 60), pad: !each.pad } : each)) },
    { ...rig, mixes: new Map([...rig.mixes].map(([id, mix]) => [id, { ...mix, stereo: !mix.stereo }])) },
  ];
  return structuredClone(changed[Math.floor(random() * changed.length)] as Rig);
}

test('after any edits what was kept is as what is worked out afresh', { timeout: 600_000 }, async () => {
  const random = randomFrom(7);
  for (const text of [generateRig(150, 3), readFileSync('examples/ten.rig', 'utf8'), ...looked, ...spoiltTexts(2, SPOILT)]) {
    let before = examineEdited(await rigOf(text), undefined);
    for (let edit = 0; edit < 4; edit++) {
      const now = edited(before.rig, random);
      const kept = examineEdited(sharing(before.rig, now), before);
      expect(pictures(kept), text).toEqual(pictures(examine(now)));
      // Now and then the next one is made of the same rig as this one, as where an edit is taken back.
      if (random() < 0.7) before = kept;
    }
  }
});

const figures = ({ typicalDbu, peakDbu, gain, snrDb, lossDb, splitLossDb }: Arrival) => [
  typicalDbu,
  peakDbu,
  gain,
  snrDb,
  lossDb,
  splitLossDb,
];
