/** From a phones socket to ears that are further away than the earphones' own lead: a lead with a number, in every list. */
import { describe, expect, it } from 'vitest';
import { labelsOf } from '#sheets';
import { leadsSheet } from '../../packages/sheets/leads/sheet';
import { packDownSheet } from '../../packages/sheets/pack-down/sheet';
import { setUpSheet } from '../../packages/sheets/set-up/sheet';
import { shoppingSheet } from '../../packages/sheets/shopping/sheet';
import { analyseText } from './load';
import { cellsOf, tableOf, unsound } from './tables';

const RIG = `rig "Far ears" stage 8 m by 5 m
performer ada "Ada" at -3 m, 1 m
performer bo  "Bo"  at  3 m, 3 m
source voice "Voice" is dynamic-mic by ada
gear iface "Interface" is interface-8 at 3 m, 4 m owned
input iface.1 takes voice
mix ada mono for ada { voice 0 dB }
mix bo  mono for bo  { voice 0 dB }
output iface.phones2 carries bo
`;
const KIND = 'earphone extension, 6.35 mm TRS jack to 3.5 mm TRS jack socket';

describe.each([
  ['not written', 'output iface.phones1 carries ada'],
  ['written', 'output iface.phones1 carries ada via earphone-extension'],
])('an extension that is %s', async (_how, line) => {
  const { checked } = await analyseText(RIG + line);
  const up = setUpSheet(checked);

  it('has a number and a label', () => {
    const own = labelsOf(checked).filter(({ name }) => name === 'ada: Interface phones1 → Ada’s earphones');
    expect(own.map(({ end, plug }) => `${end} ${plug}`)).toEqual(['A 6.35 mm TRS jack', 'B 3.5 mm TRS jack socket', 'B joint to 2 B']);
    expect(cellsOf(leadsSheet(checked), 'lead-list', 0).map(([number]) => number)).toEqual([1, 2]);
  });

  it('is laid, packed and counted back once', () => {
    expect(tableOf(up, 'leads').rows.map(({ name }) => name)).toContain('ada: Interface phones1 → Ada’s earphones');
    expect(
      tableOf(up, 'leads')
        .rows.map(({ group }) => group)
        .join(),
    ).not.toContain('not known');
    for (const sheet of [leadsSheet(checked), packDownSheet(checked)])
      expect(
        cellsOf(sheet, 'leads')
          .filter(([, kind]) => kind === KIND)
          .map(([count]) => count),
      ).toEqual([1]);
    const shopping = shoppingSheet(checked);
    expect(cellsOf(shopping, 'leads', 0, 1)).toContainEqual([1, KIND]);
    expect(JSON.stringify(shopping.blocks.filter(({ id }) => id !== 'earphones'))).not.toContain('Earphone extension lead');
    for (const sheet of [up, shopping, leadsSheet(checked), packDownSheet(checked)]) expect(unsound(sheet)).toEqual([]);
  });
});
