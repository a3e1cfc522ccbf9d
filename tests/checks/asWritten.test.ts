/** What cannot be read is quoted as it is written. */
import { expect, it } from 'vitest';
import { analyseText, foundIn } from './open';

it('does not put a gap into a number', async () => {
  const text = 'source voice is dynamic-mic\ngear iface is interface-2\ninput iface.1 takes voice gain 1e9\n';
  const found = foundIn(await analyseText(text)).find(({ code }) => code === 'units/wrong');
  expect(found?.message).toMatch(/^1e9 is not a gain\./);
});
