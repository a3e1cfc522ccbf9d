/** What a mistyped name may have been meant for, and what is another name. */
import { describe, expect, it } from 'vitest';
import { nearest } from '../../packages/language/near';

describe('near names', () => {
  it.each([
    ['voise', 'voice'],
    ['vioce', 'voice'],
    ['Voice', 'voice'],
    ['voic', 'voice'],
    ['oice', 'voice'],
    ['iface', 'ifacee'],
    ['ho', 'oh'],
    ['OH', 'oh'],
    ['ohh', 'oh'],
    ['V', 'v'],
    ['bas', 'bass'],
    ['ueke', 'uke'],
    ['interfase-8', 'interface-8'],
  ])('%s is meant for %s', (written, meant) => expect(nearest(written, [meant])).toEqual([meant]));

  it('means no other where only capitals differ', () => {
    expect(nearest('Voice', ['voice', 'voices', 'voce'])).toEqual(['voice']);
    expect(nearest('Voice', ['VOICE', 'voice', 'voices'])).toEqual(['VOICE', 'voice']);
  });

  it.each([
    ['x', 'j'],
    ['r', 'v'],
    ['i', 'if'],
    ['v1', 'v2'],
    ['oh', 'ox'],
    ['ab', 'abe'],
    ['six', 'mix'],
    ['guitar', 'sitar'],
    ['drums', 'violin'],
  ])('%s is not meant for %s', (written, other) => expect(nearest(written, [other])).toEqual([]));
});
