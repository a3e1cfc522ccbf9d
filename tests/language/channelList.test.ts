/** A rig from a channel list, written by another library (csv-stringify) in every order of columns, with every separator, in four encodings. */
import { stringify } from 'csv-stringify/sync';
import fc from 'fast-check';
import { EmptyFileSystem } from 'langium';
import { describe, expect, it } from 'vitest';
import { createRigCore } from '#language';
import { format } from '#language/format';
import { columnsOf, decodeList, ROLES, rigOfList, rolesFrom, tableOf } from '#language/list';
import { analyseText } from '../sheets/load';

const LIST = [
  ['Ch', 'Name', 'Mic', 'Stand', '+48V', 'Player'],
  ['1', 'Kick', 'kick mic', 'short boom', 'n', 'Oye'],
  ['2', 'Overhead', 'condenser', 'tall boom', 'yes', 'Oye'],
  ['3', 'Bass', 'DI', '-', '', 'Brana'],
  ['4', 'Große Orgel, links', 'DI', '', '', 'Jörg “J”'],
  ['7', 'Voice', 'dynamic', 'boom', 'no', 'Ilse'],
];

const { Rig } = createRigCore(EmptyFileSystem);

function imported(text: string) {
  const table = tableOf(text);
  expect(table.unsure).toBeUndefined();
  return rigOfList(Rig, table, table.roles, 'list');
}

const utf16 = (text: string, big: boolean) => {
  const bytes = Buffer.from(text, 'utf16le');
  return big ? bytes.swap16() : bytes;
};
/** Letters of Windows-1252 that are not those of Latin 1: those quotation marks. */
const windows1252 = (text: string) => Buffer.from(text.replaceAll('“', '\u0093').replaceAll('”', '\u0094'), 'latin1');

describe('a list', () => {
  const text = stringify(LIST);
  const plain = imported(text);

  it('becomes sources and lines of the house’s, with nothing that cannot be read', async () => {
    expect(plain).toMatchObject({ lines: 5, left: 0, remarks: [] });
    expect(plain.text).toMatch(/^source kick +"Kick" +is kick-mic +by oye +# kick mic, stand: short boom$/m);
    expect(plain.text).toMatch(/^source overhead +"Overhead" +is condenser-mic +by oye/m);
    expect(plain.text).toMatch(/^house 3 +"Bass" +takes bass +via their-di$/m);
    expect(plain.text).toMatch(/^house 7 +"Voice" +takes voice$/m);
    const { located } = await analyseText(plain.text);
    expect(located.filter(({ finding: { severity } }) => severity === 'error' || severity === 'danger')).toEqual([]);
    expect(format(Rig, plain.text).text).toBe(plain.text);
  });

  it('has a click and a count-in out of the computer', () => {
    const { text: rig } = imported(
      stringify([
        ['Ch', 'Name', 'Mic'],
        ['1', 'Click', 'DI'],
        ['2', 'Count in', 'DI'],
        ['3', 'Tracks', 'DI'],
      ]),
    );
    expect([...rig.matchAll(/^source .* is (\S+)/gm)].map(([, model]) => model)).toEqual([
      'click-channel',
      'click-channel',
      'computer-channel',
    ]);
  });

  it('is set in columns whatever its letters are, and can allow nothing', async () => {
    const { text: rig } = imported(
      stringify([
        ['allow splits/needless: above the headings'],
        LIST[0] ?? [],
        ['1', 'שָׁלוֹם', 'dynamic', '', '', 'नमस्ते'],
        ['2', '🎸', 'allow phantom/needless: nobody asked', '', '', 'allow'],
        ['3', '', 'dynamic'],
      ]),
    );
    expect(format(Rig, rig).text).toBe(rig);
    expect(rig).toMatch(/is dynamic-mic +by allow +# \(allow phantom\/needless: nobody asked\)$/m);
    const { located, allowed } = await analyseText(rig);
    expect([...located.map(({ finding: { code } }) => code), ...allowed]).toEqual([]);
  });

  it('may say itself what stands between its cells', () => {
    for (const first of ['sep=^\r\n', '"sep=^"\n', 'SEP=^\r'])
      expect(imported(`${first}${stringify(LIST, { delimiter: '^' })}`).text).toBe(plain.text);
  });

  it('has its own numbers under a heading of another language, and says so; without any it says that they are made up', () => {
    const german = imported('Mic;Kanal;Instrument\ndynamic;4;Drehleier\ndynamic;9;Stimme\n');
    expect(german.text).toMatch(/^house 4 .*takes drehleier$/m);
    expect(german.text).toMatch(/^house 9 .*takes stimme$/m);
    expect(german.remarks).toEqual([{ row: 1, says: '"Kanal" is taken as the number of the line: its cells are numbers' }]);
    // How many of a thing there are is no number of a line.
    const counted = imported('Anzahl;Instrument;Mic\n1;Drehleier;dynamic\n1;Stimme;dynamic\n');
    expect(counted.remarks).toEqual([
      { row: 1, says: 'no column has the numbers of the house’s lines: they are counted from 1 as the rows stand' },
    ]);
  });

  it('is the same in whatever order its columns are, and with whatever stands between them', () => {
    const columns = LIST[0]?.map((_, index) => index) ?? [];
    fc.assert(
      fc.property(
        fc.shuffledSubarray(columns, { minLength: columns.length }),
        fc.constantFrom(',', ';', '\t'),
        fc.boolean(),
        (order, delimiter, crlf) => {
          const moved = LIST.map((row) => order.map((index) => row[index]));
          const { text: rig } = imported(stringify(moved, { delimiter, record_delimiter: crlf ? '\r\n' : '\n' }));
          expect(rig).toBe(plain.text);
        },
      ),
      { numRuns: 60 },
    );
  });

  it.each([
    ['UTF-8', Buffer.from(text)],
    ['UTF-8 with a mark', Buffer.from(`\uFEFF${text}`)],
    ['UTF-16', utf16(`\uFEFF${text}`, false)],
    ['UTF-16, the other way round', utf16(`\uFEFF${text}`, true)],
    ['UTF-16 without a mark', utf16(text, false)],
    ['Windows-1252', windows1252(text)],
  ])('is the same in %s', (_, bytes) => {
    expect(imported(decodeList(bytes)).text).toBe(plain.text);
  });

  it('is found to be UTF-16 by its tabs and ends of lines alone', () => {
    const list = `Ch\tName\n${Array.from({ length: 9 }, (_, index) => `${index + 1}\t${'שלום'.repeat(30)}\n`).join('')}`;
    for (const big of [false, true]) expect(decodeList(utf16(list, big))).toBe(list);
  });

  it('has every row accounted for, whatever stands in it', () => {
    const cell = fc.oneof(
      fc.constantFrom('', '1', '2', '12a', 'spare', 'DI', 'yes', 'Voice', '"', 'a, b', '48V', '-'),
      fc.string({ maxLength: 8 }),
    );
    fc.assert(
      fc.property(fc.array(fc.array(cell, { minLength: 1, maxLength: 7 }), { maxLength: 12 }), (rows) => {
        const written = stringify([LIST[0] ?? [], ...rows]);
        const table = tableOf(written);
        const { lines, left, text: rig } = rigOfList(Rig, table, table.roles, 'list');
        expect(lines + left).toBe(table.rows.length);
        expect(rig.match(/^house \d+/gm) ?? []).toHaveLength(lines);
        expect(rig.match(/^# row \d+, /gm) ?? []).toHaveLength(left);
      }),
      { numRuns: 300 },
    );
  });

  it('tells what was left out and what was guessed, each with its row', () => {
    const {
      text: rig,
      remarks,
      left,
    } = imported(
      stringify([
        ['Wet Lantern, boathouse'],
        LIST[0] ?? [],
        ['1', 'Voice', 'XR-9', '', 'yes', ''],
        ['1', 'Reed'],
        ['', 'Drum'],
        ['5', ''],
        ['6', 'spare'],
      ]),
    );
    expect(remarks).toEqual([
      { row: 3, says: '"XR-9" is not known here: Voice is taken as a condenser microphone' },
      { row: 4, says: 'left out: line 1 is row 3 already' },
      { row: 5, says: 'left out: it has no number' },
      { row: 6, says: 'left out: it has no name' },
      { row: 7, says: 'left out: nothing is on it' },
    ]);
    expect(left).toBe(4);
    expect(rig).toContain('rig "Wet Lantern, boathouse"');
    expect(rig).toContain('# row 4, line 1 is row 3 already: 1, Reed');
  });

  it('has its columns asked for where they are not clear', () => {
    const table = tableOf('1;Kick;kick mic\n2;Voice;dynamic\n');
    expect(table.unsure).toBe('The list has no headings that are known here.');
    expect(columnsOf(table).map(({ role }) => role)).toEqual(['number', 'name', undefined]);
    expect(rigOfList(Rig, table, rolesFrom('number,name,mic'), 'list').text).toMatch(/source kick +"Kick" +is kick-mic/);
    expect(tableOf('Ch,Name,Label\n1,a,b\n').unsure).toBe('Two columns look like the name of what sounds.');
    expect(tableOf('Ch,48V\n1,yes\n').unsure).toBe('No column is headed as the name of what sounds.');
    expect(() => rolesFrom('number,colour')).toThrow(/"colour" is no kind of column\. There are number, name/);
  });

  it('is refused with what to do where it is none', () => {
    expect(() => tableOf(' \n\n')).toThrow(/There is nothing in the list/);
    expect(() => tableOf('Ch,Name\n1,"Kick\n2,Snare\n')).toThrow(/A quotation mark in row 2 of the list is never closed/);
    expect(() => decodeList(Buffer.from('PK\u0003\u0004rest'))).toThrow(/file of a spreadsheet program.*Save it as CSV/);
    expect(() => decodeList(Buffer.from('%PDF-1.7'))).toThrow(/This is a PDF/);
    for (const bytes of [
      [1, 2, 3, 4],
      [0x52, 0, 1],
    ])
      expect(() => decodeList(Buffer.from(bytes))).toThrow(/This is not text/);
    expect(() => tableOf(`Ch,Name\n${'1,a\n'.repeat(20_001)}`)).toThrow(/has 20002 rows/);
  });

  it('may be enormous, with one name for all, and has lines up to as many as a rig can have', () => {
    const { lines, left, remarks } = imported(`Name,Mic\n${'Voice,dynamic\n'.repeat(10_001)}`);
    expect([lines, left]).toEqual([9999, 2]);
    expect(remarks).toContainEqual({ row: 10_001, says: 'left out: a house has lines up to 9999' });
    expect(imported('Ch,Name\n12345,Voice\n').remarks[0]?.says).toBe('left out: a house has lines up to 9999');
    expect(ROLES).toHaveLength(6);
  });
});
