/** Europe: what is recommended for the countries of the CEPT, and what differs in some. */
import { type RadioRegion, range } from './range';

const ANNEX_10 = 'ERC/REC 70-03, Annex 10 (radio microphones, in-ear monitors included), from memory';
const FREE_IN_EUROPE = 'ERC/REC 70-03, Annex 10, with the power that Ofcom and the Bundesnetzagentur are quoted with';
const DECISION = 'Commission Implementing Decision 2014/641/EU (OJ L 263, 3.9.2014, p. 29)';
const WIDEBAND = 'ERC/REC 70-03, Annex 3, from memory';
const NATIONAL = 'national conditions apply';

const SHARED = range(2400, 2483.5, {
  licence: 'none',
  power: '10 mW, more for sets that spread or hop',
  remark: 'shared with all wireless networks',
  source: WIDEBAND,
});

export const EUROPE: RadioRegion = {
  code: 'EU',
  name: 'Europe, as recommended',
  regulator: 'the radio regulator of the country',
  ranges: [
    range(174, 216, { licence: 'varies', remark: NATIONAL, source: ANNEX_10 }),
    range(470, 694, { licence: 'varies', remark: `between television channels; ${NATIONAL}`, source: ANNEX_10 }),
    range(823, 832, { licence: 'varies', remark: NATIONAL, source: DECISION }),
    range(863, 865, { licence: 'none', power: '10 mW', source: FREE_IN_EUROPE }),
    range(1785, 1805, { licence: 'varies', remark: NATIONAL, source: DECISION }),
    SHARED,
  ],
};

const GERMAN = 'Bundesnetzagentur, general assignments for wireless microphones';

export const GERMANY: RadioRegion = {
  code: 'DE',
  name: 'Germany',
  regulator: 'the Bundesnetzagentur',
  ranges: [
    range(174, 230, { licence: 'none', power: '50 mW', source: `${GERMAN} (59/2015, as listed by APWPT)` }),
    range(470, 608, {
      licence: 'none',
      power: '50 mW',
      remark: 'for professional use, until the end of 2030; between television channels',
      source: `${GERMAN} (34/2020, as reported on 11 March 2020)`,
    }),
    range(614, 694, {
      licence: 'none',
      power: '50 mW',
      remark: 'for professional use, until the end of 2030; between television channels',
      source: `${GERMAN} (34/2020, as reported on 11 March 2020)`,
    }),
    range(823, 832, { licence: 'none', power: '82 mW, 100 mW on the body', source: `${GERMAN} (2/2015, as listed by APWPT)` }),
    range(863, 865, { licence: 'none', power: '10 mW', source: `${GERMAN} (47/2013, as listed by APWPT)` }),
    range(1785, 1805, { licence: 'none', power: '82 mW', source: `${GERMAN} (3/2015, as listed by APWPT)` }),
    SHARED,
  ],
};

const OFCOM = 'Ofcom, programme making and special events, as quoted by hire firms';

export const UNITED_KINGDOM: RadioRegion = {
  code: 'UK',
  name: 'the United Kingdom',
  regulator: 'Ofcom',
  ranges: [
    range(173.8, 175, { licence: 'none', source: `${OFCOM} and Wikipedia, "Wireless microphone licensing"` }),
    range(470, 606, {
      licence: 'needed',
      remark: 'for one place and time, coordinated',
      source: `Wikipedia, "Wireless microphone licensing"`,
    }),
    range(606.5, 613.5, {
      licence: 'needed',
      power: '10 mW, 50 mW on the body',
      remark: 'one licence for the whole country, shared',
      source: OFCOM,
    }),
    range(614, 694, {
      licence: 'needed',
      remark: 'for one place and time, coordinated',
      source: `Wikipedia, "Wireless microphone licensing"`,
    }),
    range(863, 865, { licence: 'none', power: '10 mW', source: OFCOM }),
    SHARED,
  ],
};

/**
 * Countries that follow the recommendation, by ISO 3166: members of the CEPT (from memory). Where a country is not on its own above, its national
 * table may differ.
 */
export const CEPT: ReadonlySet<string> = new Set(
  'AD AL AT AZ BA BE BG CH CY CZ DE DK EE ES FI FR GB GE GR HR HU IE IS IT LI LT LU LV MC MD ME MK MT NL NO PL PT RO RS SE SI SK SM TR UA VA'.split(
    ' ',
  ),
);

/** Those whose employers are bound by the Directive on noise: the European Union and, by its agreement, Iceland, Liechtenstein and Norway (from memory). */
export const EUROPEAN_UNION: ReadonlySet<string> = new Set(
  'AT BE BG CY CZ DE DK EE ES FI FR GR HR HU IE IS IT LI LT LU LV MT NL NO PL PT RO SE SI SK'.split(' '),
);
