/** What of a text is taken as one column a letter without asking, against the library that knows the widths of all letters. */
import fc from 'fast-check';
import stringWidth from 'string-width';
import { expect, it } from 'vitest';
import { PLAIN } from '../../packages/cli/report/columns';

const plain = Array.from({ length: 0x10000 }, (_, code) => String.fromCharCode(code)).filter((letter) => PLAIN.test(letter));
const printed = plain.filter((letter) => !'\t\r\n'.includes(letter));

it('each takes one column', () => {
  expect(printed.length).toBeGreaterThan(500);
  expect(printed.filter((letter) => stringWidth(letter) !== 1)).toEqual([]);
});

it('so do several of them, whatever stands beside what', () => {
  fc.assert(
    fc.property(fc.array(fc.constantFrom(...printed), { minLength: 1, maxLength: 40 }), (letters) => {
      const text = letters.join('');
      expect(stringWidth(text)).toBe(text.length);
      expect([...new Intl.Segmenter().segment(text)].map(({ segment }) => segment)).toEqual(letters);
    }),
  );
});
