/** One band, many nights: what a night takes over, leaves out and says instead. */

import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { URI } from 'langium';
import { NodeFileSystem } from 'langium/node';
import { expect, it } from 'vitest';
import { compare } from '#compare';
import { type Analysis, diagnosticOf, foundBy, RigLoader } from '#language';
import { sheetsOf } from '#sheets';
import { root } from '../build';
import { FOLDER, MemoryFiles } from '../hostile/open';

const BAND = `rig "Chalk Ferry" rate 96 kHz set 50 min
performer pip "Pip"
performer noa "Noa"
source voice "Voice" is dynamic-mic by pip
source cello "Cello" is preamp-pickup by noa
gear iface "Interface" is interface-8-mic
gear tx is in-ear-transmitter on 863.3 MHz
gear noa-pack is belt-pack for noa hears tx.left
house at 3 m, 1 m
input iface.1 takes voice
input iface.2 takes cello
house 1 takes cello via passive-di
mix pip mono for pip { voice 0 dB cello -6 dB }
mix noa mono for noa { cello 0 dB }
output iface.phones1 carries pip
output iface.1 carries noa via tx.left
`;

async function night(text: string, files: Readonly<Record<string, string>> = { 'band.rig': BAND }): Promise<Analysis> {
  const all = Object.entries({ ...files, 'night.rig': text }).map(([name, each]) => [`${FOLDER}${name}`, each]);
  const loader = new RigLoader(new MemoryFiles(Object.fromEntries(all)), URI.parse(FOLDER));
  return loader.services.rig.Analyser.of(await loader.load(URI.parse(`${FOLDER}night.rig`)));
}

const idsOf = ({ lowered: { rig } }: Analysis) => ({
  people: [...rig.performers.keys()],
  sources: [...rig.sources.keys()],
  gear: [...rig.pieces.values()].flatMap(({ kind, id }) => (kind === 'gear' ? [id] : [])),
  mixes: [...rig.mixes.keys()],
  runs: [...rig.inputs, ...rig.house, ...rig.outputs].map(({ id }) => id),
});
const codes = ({ located }: Analysis) => located.map(({ finding }) => finding.code);
const aboutText = (analysis: Analysis) => codes(analysis).filter((code) => /^(text|names|use|units)\//.test(code));

it('takes over all of it, and is the same rig but for its title', async () => {
  const [home, away] = [await night(BAND, {}), await night('rig "Away"\nuse "band.rig" whole')];
  expect(idsOf(away)).toEqual(idsOf(home));
  expect(away.lowered.rig.settings).toEqual(home.lowered.rig.settings);
  const input = (analysis: Analysis) => ({ rig: analysis.lowered.rig, findings: foundBy(analysis) });
  const { moves, findings } = compare(input(home), input(away));
  expect(moves).toEqual({
    renamed: [],
    moves: [
      { what: 'changed', kind: 'rig', before: 'rig', after: 'rig', fields: [{ field: 'label', before: 'Chalk Ferry', after: 'Away' }] },
    ],
  });
  expect([findings.come, findings.gone]).toEqual([[], []]);
  expect(away.lowered.rig.night).toEqual({ of: 'Chalk Ferry', without: [], instead: [] });
});

it('without somebody there is nothing of theirs, and nothing that takes it', async () => {
  const away = await night('rig "Away"\nuse "band.rig" whole without noa');
  expect(idsOf(away)).toEqual({
    people: ['performer:pip'],
    sources: ['source:voice'],
    gear: ['gear:iface', 'gear:tx'],
    mixes: ['mix:pip'],
    runs: ['input:iface.1', 'output:iface.phones1'],
  });
  expect(away.lowered.rig.mixes.get('mix:pip')?.sends.map(({ source }) => source)).toEqual(['source:voice']);
  expect(aboutText(away)).toEqual([]);
  expect(away.lowered.rig.night?.without).toEqual(['Noa']);
});

it('has this house’s lines, and none of the other’s', async () => {
  const away = await night('rig "Away"\nuse "band.rig" whole without house\nhouse at -2 m, 0 m\nhouse 7 takes voice');
  expect(away.lowered.rig.house.map(({ id }) => id)).toEqual(['house:7']);
  expect(away.lowered.rig.pieces.get('box:7')?.at).toEqual({ x: -2, y: 0 });
});

it('replaces what says so: gear, a line, a mix, the figures of the whole', async () => {
  const away = await night(`rig "Away" rate 48 kHz
use "band.rig" whole
gear iface "Hired" is interface-8-mic hire 40 EUR instead
input iface.2 takes voice instead
mix noa mono for noa { voice -2 dB } instead
output iface.1 carries pip instead
performer noa "Noa" at 2 m, 1 m instead
`);
  const { rig } = away.lowered;
  expect(aboutText(away)).toEqual([]);
  expect(rig.pieces.get('gear:iface')?.label).toBe('Hired');
  expect(rig.inputs.map(({ id, takes }) => [id, takes?.id])).toEqual([
    ['input:iface.2', 'source:voice'],
    ['input:iface.1', 'source:voice'],
  ]);
  expect(rig.outputs.map(({ id, carries }) => [id, carries])).toEqual([
    ['output:iface.1', 'mix:pip'],
    ['output:iface.phones1', 'mix:pip'],
  ]);
  expect(rig.mixes.get('mix:noa')?.sends.map(({ levelDb }) => levelDb)).toEqual([-2]);
  expect(rig.settings).toMatchObject({ rateHz: 48_000, setS: 3000 });
  expect(rig.night?.instead).toEqual(
    ['Hired', 'Interface input 2', 'noa', 'Interface output 1', 'Noa'].map((each) => each.replace('Interface', 'Hired')),
  );
});

it('tells where it would replace without saying so', async () => {
  const away = await night(`rig "Away"
use "band.rig" whole
gear iface is interface-8-mic
input iface.2 takes voice
mix noa mono for noa { voice -2 dB }
`);
  expect(codes(away)).toEqual(expect.arrayContaining(['names/elsewhere-too', 'capacity/input-taken-twice']));
  expect(codes(away).filter((code) => code === 'names/elsewhere-too')).toHaveLength(2);
});

it('may be a night of a night, in a circle, or of a file that is not there', async () => {
  const files = { 'band.rig': BAND, 'tour.rig': 'rig "Tour"\nuse "band.rig" whole without noa\ninput iface.5 takes voice via y-lead\n' };
  const away = await night('rig "Away"\nuse "tour.rig" whole\ninput iface.5 takes voice instead\n', files);
  expect(idsOf(away).runs).toEqual(['input:iface.5', 'input:iface.1', 'output:iface.phones1']);
  const circle = await night('rig "Away"\nuse "other.rig" whole', { 'other.rig': 'rig "Other"\nuse "night.rig" whole\nperformer ada\n' });
  expect(idsOf(circle).people).toEqual(['performer:ada']);
  expect(codes(await night('rig "Away"\nuse "gone.rig" whole without house', {}))).toEqual(['use/missing']);
  // Of a file without a "rig" there is nothing more than without "whole": its runs and its mixes are no night's.
  const untitled = BAND.replace(/^rig .*/, '');
  const without = await night('rig "Away"\nuse "band.rig" whole', { 'band.rig': untitled });
  expect(codes(without)).toContain('use/no-rig');
  expect(without.lowered.rig).toEqual((await night('rig "Away"\nuse "band.rig"', { 'band.rig': untitled })).lowered.rig);
  expect(idsOf(without)).toMatchObject({ people: ['performer:pip', 'performer:noa'], mixes: [], runs: [] });
});

it('tells each thing that is wrong with the band’s rig on this night, with where it stands', async () => {
  const away = await night('rig "Away"\nuse "band.rig" whole without iface');
  expect(codes(away)).not.toContain('use/trouble');
  const twice = await night('rig "Away"\nuse "band.rig" whole\ngear iface is interface-2 instead\n');
  const wrong = twice.located.filter(({ range }) => range.start.line === 1);
  expect(wrong.length).toBeGreaterThan(0);
  expect(wrong.every(({ related }) => related[0]?.uri.endsWith('band.rig'))).toBe(true);
});

const NIGHTS = join(root, 'examples/three-nights');

it.each(readdirSync(NIGHTS))('%s of the example has nothing wrong', async (name) => {
  const loader = new RigLoader(NodeFileSystem.fileSystemProvider(), URI.file(NIGHTS));
  const analysis = loader.services.rig.Analyser.of(await loader.load(URI.file(join(NIGHTS, name))));
  expect(analysis.located.filter(({ finding }) => finding.severity !== 'note').map(diagnosticOf)).toEqual([]);
  const { checked } = analysis;
  if (!checked) throw new Error('no rig');
  // What differs is told at the head of each sheet.
  const [fact] = (await sheetsOf(checked, foundBy(analysis), ['house']))[0]?.facts ?? [];
  expect(fact).toBe(TOLD[name]);
});

const TOLD: Readonly<Record<string, string>> = {
  'band.rig': '48 kHz',
  'cellar.rig':
    'another night of Pewter Heron, without the house’s lines and Split, instead of what that has: Interface input 1, Interface input 2, Interface input 3 and Interface input 4',
  'quayside.rig': 'another night of Pewter Heron, without Milo and the house’s lines',
  'chapel.rig': 'another night of Pewter Heron, instead of what that has: Hired interface and ada',
};
