/** Outside Europe. */
import { type RadioRegion, range } from './range';

const PART_15 = '47 CFR 15.236, as revised on 1 September 2021; powers as taajuus.info lists them';
const PART_74 = '47 CFR Part 74, Subpart H, by the FCC’s guide to wireless microphones, from memory';
const SPREAD = '47 CFR 15.247, as listed by APWPT';

export const UNITED_STATES: RadioRegion = {
  code: 'US',
  name: 'the United States',
  regulator: 'the FCC',
  ranges: [
    range(54, 72, { licence: 'none', power: '50 mW', remark: 'between television channels', source: PART_15 }),
    range(76, 88, { licence: 'none', power: '50 mW', remark: 'between television channels', source: PART_15 }),
    range(174, 216, { licence: 'none', power: '50 mW', remark: 'between television channels', source: PART_15 }),
    range(470, 608, { licence: 'none', power: '50 mW', remark: 'between television channels', source: PART_15 }),
    range(614, 616, { licence: 'none', power: '20 mW', source: PART_15 }),
    range(653, 657, { licence: 'needed', source: PART_74 }),
    range(657, 663, { licence: 'none', power: '20 mW', source: PART_15 }),
    range(902, 928, { licence: 'none', remark: 'shared with many other things', source: SPREAD }),
    range(1920, 1930, {
      licence: 'none',
      remark: 'sets that look for free channels by themselves',
      source: '47 CFR 15.301 and on, as listed by APWPT',
    }),
    range(2400, 2483.5, { licence: 'none', remark: 'shared with all wireless networks', source: SPREAD }),
    range(5725, 5850, { licence: 'none', remark: 'shared with wireless networks', source: SPREAD }),
  ],
};

const RSS_210 = 'RSS-210 Issue 10, Annex G, and CPC-2-1-28 Issue 2 (December 2019)';

export const CANADA: RadioRegion = {
  code: 'CA',
  name: 'Canada',
  regulator: 'Innovation, Science and Economic Development Canada',
  ranges: [
    range(54, 72, { licence: 'none', remark: 'between television channels', source: RSS_210 }),
    range(76, 88, { licence: 'none', remark: 'between television channels', source: RSS_210 }),
    range(174, 216, { licence: 'none', remark: 'between television channels', source: RSS_210 }),
    range(470, 608, { licence: 'none', remark: 'between television channels', source: RSS_210 }),
    range(614, 616, { licence: 'none', source: 'RSS-210 Issue 10, Annex G, from memory' }),
    range(657, 663, { licence: 'none', source: RSS_210 }),
    range(2400, 2483.5, { licence: 'none', remark: 'shared with all wireless networks', source: 'RSS-247, from memory' }),
  ],
};

const CLASS_LICENCE = 'Low Interference Potential Devices class licence, as the ACMA’s pages on wireless microphones have it';

export const AUSTRALIA: RadioRegion = {
  code: 'AU',
  name: 'Australia',
  regulator: 'the ACMA',
  ranges: [
    range(520, 694, {
      licence: 'none',
      remark: 'between television channels; a class licence, for which nobody applies',
      source: CLASS_LICENCE,
    }),
    range(1790, 1800, { licence: 'none', remark: 'a class licence, for which nobody applies', source: CLASS_LICENCE }),
    range(2400, 2483.5, { licence: 'none', remark: 'shared with all wireless networks', source: 'the same class licence, from memory' }),
  ],
};

const TYPES = 'a Japanese overview of radio microphones by type (A to D), with Notification 42 of 1989 on low-power stations';

export const JAPAN: RadioRegion = {
  code: 'JP',
  name: 'Japan',
  regulator: 'the Ministry of Internal Affairs and Communications',
  ranges: [
    range(74.58, 74.76, { licence: 'none', centres: true, remark: 'four set frequencies', source: TYPES }),
    range(322.025, 322.4, { licence: 'none', centres: true, remark: 'two groups of set frequencies', source: TYPES }),
    range(470, 710, { licence: 'needed', remark: 'between television channels, coordinated', source: TYPES }),
    range(806.125, 809.75, { licence: 'none', centres: true, remark: 'set frequencies, these two the outermost', source: TYPES }),
    range(1240, 1260, { licence: 'needed', remark: 'coordinated', source: 'from memory; the overview says "1200 MHz band"' }),
  ],
};
