/**
 * For each word of the grammar two rigs that differ in it alone, or in its figure: what is found, or some sheet, is another.
 * The rig is small, clean for the most part, and made up.
 */

export const RIG = `
rig "Clauses"
  region EU
  country DE
  rate 48 kHz
  buffer 64 samples
  budget 100 EUR
  set 60 min
  scan "examples/mistakes/scan/rooms/mill.csv" above -85 dBm
  circuit 2 A 230 V
  stage 8 m by 6 m

use "examples/gear/hall-shelf.rig"

model desk-8 "Desk" is interface {
  input  1..2        combo {
    mic         impedance 2 kohm   max 2 dBu   gain 0..55 dB  noise -127 dBu  pad 10 dB  phantom shared
    instrument  impedance 1 Mohm   max 10 dBu  gain 0..50 dB
    line        impedance 10 kohm  max 20 dBu  gain -10..20 dB
  }
  input  3..8        xlr { mic impedance 2 kohm  max 2 dBu  gain 0..55 dB  noise -127 dBu  phantom each }
  input  10          ts   instrument  impedance 1 Mohm  max 10 dBu  gain 0..50 dB
  input  9           trs  line  impedance 10 kohm  max 20 dBu  gain 0..20 dB
  input  usb1..usb2  digital
  output 1..4        trs  line    impedance 150 ohm  max 16 dBu
  output phones      trs  phones  impedance 30 ohm  max 10 dBu  channels 2
  phantom 10 mA
  mixes   2 stereo
  latency 1.4 ms
  power   mains
  origin  "its leaflet"
}
model passive "Passive box" is di {
  input  in   ts   instrument  impedance 1 Mohm  max 0 dBu
  output thru ts   from in parallel
  output out  xlr  tail 2 m  from in transformer 12:1 pad 3 dB  mic
}
model booster "Booster" is di {
  input  in   xlr  mic  impedance 10 kohm  max 10 dBu
  output out  xlr  from in active gain 6 dB isolated  mic  impedance 100 ohm
}
model one-of-two "Switch box" {
  input  a, b  ts
  output out   ts  from a, b switch
}
model two-keys "Two keyboards" {
  output left, right  trs  separate  line  impedance 1 kohm  level -8 dBu  max 6 dBu
  typical -10 dBu
  peak    4 dBu
  lowest  50 Hz
}
model strings "Strings" {
  output out  ts  instrument  impedance 10 kohm  inductance 3 H  level -20 dBu  max 2 dBu
  highest 5 kHz
}
model bridge "Bridge" {
  output out  ts  instrument  capacitance 2 nF  level -20 dBu  max 0 dBu
  lowest 40 Hz
}
model stage-mic "Stage microphone" {
  output out  xlr  mic  impedance 150 ohm  sensitivity 10 mV/Pa  max 135 dB SPL  phantom needed  draws 4 mA
  typical 100 dB SPL
  peak 120 dB SPL
}
model send "Transmitter" is transmitter {
  input  left, right  combo  line  impedance 10 kohm  max 20 dBu
  output air          from left, right active  radio  channels 2
  mono-switch
  tunes 863..865 MHz
}
model receive "Receiver" is pack {
  input  air     radio  channels 2
  output phones  mini-trs  from air active  phones  impedance 5 ohm  max 5 dBu  channels 2
  side-select
  power battery 1 h
}
model basic-belt-pack-2 "Plain receiver" is pack {
  input  air     radio  channels 2
  output phones  mini-trs  from air active  phones  impedance 5 ohm  max 5 dBu  channels 2
}
model own-ears "Moulded ears" is ears {
  input in  mini-trs  tail 1.2 m  phones  impedance 32 ohm  sensitivity 105 dB SPL/mW  channels 2
}

model old-player "Old player" {
  output out  trs  line  impedance 600 ohm  level -10 dBu  max 4 dBu  unbalanced
}
model far-set "Radio set" {
  borrowed
  output out  xlr  mic  impedance 200 ohm  level -38 dBu  max -10 dBu
  tunes 863..865 MHz
  power battery 6 h
}

performer ada "Ada"  at 0 m, 2 m   ears own-ears
performer bo  "Bo"   at -2 m, 3 m
performer cy  "Cy"   at 2 m, 3 m

source voice  "Voice"  is stage-mic  by ada  at 0 m, 1 m  typical 90 dB SPL  peak 115 dB SPL  owned
source hall   "Hall"   is stage-mic  by bo
source bow    "Bow"    is ribbon-mic  by bo  must
source drum   "Drum"   is dynamic-mic  by bo
source cello  "Cello"  is bridge   by bo  lowest 65 Hz
source git    "Banjo"  is strings  by bo
source old    "Player" is old-player  at 0 m, 8 m
source gtr    "Guitar" is strings  by bo  highest 4 kHz
source bass   "Bass"   is bridge   by bo
source keys   "Keys"   is two-keys  by bo
source count  "Count"  is click-channel  private
source radio-voice "Far voice" is far-set  on 863.5 MHz

gear desk  "Desk"        is desk-8   at 1 m, 4 m  borrowed
gear box   "Box"         is passive  at -2 m, 3 m  hire 10 EUR
gear up    "Up"          is booster  buy 20 EUR
gear third "Third"       is y-lead   theirs
gear left-over "Left over" is passive-di  spare
gear tx    "Tx"          is send  on 863.9 MHz
gear pack  "Pack"        is receive  for ada  hears tx.left
gear pack-b "Pack B"     is receive  for bo   hears tx.right
gear tx-2  "Tx 2"        is send  on 864.3 MHz
gear pack-c "Pack C"     is basic-belt-pack-2  for cy  hears tx-2.left
gear ab    "A/B"         is one-of-two  at 1 m, 4 m

input desk.1  takes voice  gain 30 dB  pad
input desk.2  takes gtr    via ab.a
input desk.2  takes cello  via ab.b
input desk.10 takes git
input desk.3  takes bass   via box
input desk.4  takes hall
input desk.5  takes bow
input desk.6  takes drum   via third.1, up
input desk.7  takes keys.left  via passive-di
input desk.9  takes old
input desk.usb1  takes count

house at 3 m, 1 m
house 1  "Voice"  takes radio-voice
house 2  "Speech" own mic
house 3  "Drum"   takes drum  via third.2
house 4  "Tracks" takes for-house

mix ada  mono  for ada  { voice 0 dB  bass -3 dB  count -12 dB }
mix bo   stereo  for bo   { gtr 0 dB left 20 %  bass -2 dB right 30 %  hall -3 dB }
mix cy   mono  for bo, cy  { gtr 0 dB  cello -2 dB }
mix for-house mono for house { bass 0 dB }
output desk.1     carries ada  via tx.left
output desk.2     carries cy   via tx.right
output desk.3     carries cy   via tx-2.left
output desk.phones  carries bo
output desk.4     carries for-house  via passive-di
`;

/** What is written in the rig, and what instead. */
type Pair = readonly [from: string, to: string];

/** By the rule of the grammar and the word in it. */
export const PAIRS: Readonly<Record<string, Pair>> = {
  'Header rig': ['rig "Clauses"', '"Clauses"'],
  'Region region': ['region EU', ''],
  'Country country': ['country DE', ''],
  'Licensed licensed': ['country DE', 'country DE licensed'],
  'Rate rate': ['rate 48 kHz', 'rate 96 kHz'],
  'BufferSize buffer': ['buffer 64 samples', 'buffer 512 samples'],
  'Budget budget': ['budget 100 EUR', 'budget 25 EUR'],
  'SetTime set': ['set 60 min', 'set 90 min'],
  'Stage stage': ['stage 8 m by 6 m', 'stage 12 m by 6 m'],
  'Stage by': ['stage 8 m by 6 m', 'stage 8 m by 2 m'],
  'Headroom headroom': ['set 60 min', 'set 60 min headroom 12 dB'],
  'Margin margin': ['set 60 min', 'set 60 min margin 12 dB'],
  'Lengths lengths': ['set 60 min', 'set 60 min lengths 4 m, 8 m'],
  'LeadsHad leads': ['set 60 min', 'set 60 min leads 6 xlr 5 m, 2 trs 3 m'],
  'Mains mains': ['set 60 min', 'set 60 min mains shared'],
  'Mains shared': ['set 60 min', 'set 60 min mains shared'],
  'SoundCheck check': ['set 60 min', 'set 60 min check 40 min'],
  'Listening listening': ['set 60 min', 'set 60 min listening 97 dB SPL'],
  'Circuit circuit': ['power   mains\n  origin', 'power   mains 900 W\n  origin'],
  'Day date': ['set 60 min', 'set 60 min date "4 December 2026"'],
  'Venue venue': ['set 60 min', 'set 60 min venue "Old sawmill"'],
  'Contact contact': ['set 60 min', 'set 60 min contact "Maja: 555 0123"'],
  'Avoid avoid': ['set 60 min', 'set 60 min avoid 863..863.7 MHz'],
  'Scan scan': ['  scan "examples/mistakes/scan/rooms/mill.csv" above -85 dBm\n', ''],
  'Scan above': ['above -85 dBm', 'above -20 dBm'],
  'Guard guard': ['set 60 min', 'set 60 min guard carriers 500 kHz'],
  'GuardDistance carriers': ['set 60 min', 'set 60 min guard carriers 500 kHz'],
  'GuardDistance pairs': ['set 60 min', 'set 60 min guard pairs 0 kHz'],
  'GuardDistance triples': ['set 60 min', 'set 60 min guard triples 80 kHz'],
  'GuardDistance fifths': ['set 60 min', 'set 60 min guard fifths 80 kHz'],
  'Use use': ['use "examples/gear/hall-shelf.rig"', 'use "examples/gear/no-such.rig"'],
  'Use whole': ['use "examples/gear/hall-shelf.rig"', 'use "examples/gear/hall-shelf.rig" whole'],
  'Use without': ['use "examples/gear/hall-shelf.rig"', 'use "examples/gear/hall-shelf.rig" whole without bo'],
  'LeftOut house': ['use "examples/gear/hall-shelf.rig"', 'use "examples/gear/hall-shelf.rig" whole without house'],
  'Instead instead': ['takes bow\n', 'takes bow  instead\n'],
  'House instead': ['house 2  "Speech" own mic', 'house 2  "Speech" own mic instead'],
  'Mix instead': ['for house { bass 0 dB }', 'for house { bass 0 dB } instead'],
  'Output instead': ['carries for-house  via passive-di', 'carries for-house  via passive-di instead'],

  'Model model': ['model strings', 'strings'],
  'Model is': ['"Passive box" is di', '"Passive box"'],
  'PhantomBudget phantom': ['  phantom 10 mA\n', '  phantom 4 mA\n'],
  'Mixes mixes': ['mixes   2 stereo', 'mixes   1 stereo'],
  'Mixes mono': ['mixes   2 stereo', 'mixes   2 mono'],
  'Mixes stereo': ['mixes   2 stereo', 'mixes   2 mono'],
  'Latency latency': ['latency 1.4 ms', 'latency 9 ms'],
  'Rates rates': ['latency 1.4 ms', 'latency 1.4 ms  rates 44.1 kHz'],
  'Power power': ['power   mains', ''],
  'Lowest lowest': ['  lowest 40 Hz\n', ''],
  'Highest highest': ['highest 4 kHz', 'highest 15 kHz'],
  'Tunes tunes': ['max -10 dBu\n  tunes 863..865 MHz', 'max -10 dBu'],
  'CarrierKind carrier': ['max -10 dBu\n  tunes', 'max -10 dBu\n  carrier hopping tunes'],
  'CarrierKind analogue': ['max -10 dBu\n  tunes', 'max -10 dBu\n  carrier analogue 900 kHz tunes'],
  'CarrierKind digital': ['active  radio  channels 2\n  mono-switch', 'active  radio  channels 2\n  carrier digital mono-switch'],
  'CarrierKind hopping': ['max -10 dBu\n  tunes', 'max -10 dBu\n  carrier hopping tunes'],
  'SideSelect side-select': ['  side-select\n', ''],
  'MonoSwitch mono-switch': ['  mono-switch\n', ''],
  'Private private': ['"Hall"   is stage-mic  by bo', '"Hall"   is stage-mic  by bo  private'],
  'Private public': ['is click-channel  private', 'is click-channel  public'],
  'Port input': ['  input  usb1..usb2  digital', ''],
  'Port output': ['  output phones      trs  phones  impedance 30 ohm  max 10 dBu  channels 2', ''],
  'Separate separate': ['trs  separate  line', 'trs  line'],
  'PortPrivate private': ['trs  separate  line', 'trs  separate private  line'],
  'Tail tail': ['tail 2 m', 'tail 20 m'],
  'Tie from': ['from in active gain 6 dB isolated', ''],
  'Tie parallel': ['output out   ts  from a, b switch', 'output out   ts  from a, b parallel'],
  'Tie transformer': ['from in transformer 12:1 pad 3 dB', 'from in parallel pad 3 dB'],
  'Tie active': ['from in active gain 6 dB', 'from in parallel'],
  'Tie switch': ['output out   ts  from a, b switch', 'output out   ts  from a, b parallel'],
  'TiePart gain': ['active gain 6 dB', 'active gain 16 dB'],
  'TiePart pad': ['12:1 pad 3 dB', '12:1 pad 13 dB'],
  'TiePart isolated': ['gain 6 dB isolated', 'gain 6 dB'],
  'SignalKind mic': ['3..8        xlr { mic', '3..8        xlr { line'],
  'SignalKind instrument': ['    instrument  impedance 1 Mohm   max 10 dBu  gain 0..50 dB\n', ''],
  'SignalKind line': ['3..8        xlr { mic', '3..8        xlr { line'],
  'SignalKind phones': ['trs  phones  impedance 30 ohm', 'trs  line  impedance 30 ohm'],
  'SignalKind speaker': ['trs  phones  impedance 30 ohm', 'trs  speaker  impedance 30 ohm'],
  'SignalKind digital': ['  input  usb1..usb2  digital', '  input  usb1..usb2  xlr mic'],
  'SignalKind radio': ['active  radio  channels 2', 'active  line  channels 2'],
  'Figure impedance': [
    'max 2 dBu  gain 0..55 dB  noise -127 dBu  phantom each',
    'impedance 50 ohm max 2 dBu  gain 0..55 dB  noise -127 dBu  phantom each',
  ],
  'Figure capacitance': ['capacitance 2 nF', 'capacitance 10 pF'],
  'Figure inductance': ['inductance 3 H', 'inductance 30 H'],
  'Figure max': ['max 135 dB SPL', 'max 100 dB SPL'],
  'Figure limiter': ['trs  phones  impedance 30 ohm', 'trs  phones  limiter -10 dBu impedance 30 ohm'],
  'Figure level': ['capacitance 2 nF  level -20 dBu', 'capacitance 2 nF  level -30 dBu'],
  'Figure sensitivity': ['sensitivity 10 mV/Pa', 'sensitivity 1 mV/Pa'],
  'Figure gain': ['max 2 dBu  gain 0..55 dB  noise -127 dBu  phantom each', 'max 2 dBu  gain 0..5 dB  noise -127 dBu  phantom each'],
  'Figure noise': ['noise -127 dBu  phantom each', 'noise -90 dBu  phantom each'],
  'Figure self-noise': ['sensitivity 10 mV/Pa', 'sensitivity 10 mV/Pa  self-noise 60 dB SPL'],
  'Figure dynamic-range': ['noise -127 dBu  phantom each', 'noise -127 dBu  dynamic-range 60 dB  phantom each'],
  'Figure pad': ['pad 10 dB  phantom shared', 'phantom shared'],
  'Figure phantom': ['phantom needed  draws 4 mA', ''],
  'Figure each': ['noise -127 dBu  phantom each', 'noise -127 dBu  phantom shared'],
  'Figure shared': ['noise -127 dBu  phantom each', 'noise -127 dBu  phantom shared'],
  'Figure needed': ['phantom needed  draws 4 mA', 'phantom harmful'],
  'Figure harmful': ['phantom needed  draws 4 mA', 'phantom harmful'],
  'Figure draws': ['draws 4 mA', 'draws 9 mA'],
  'Figure channels': ['max 10 dBu  channels 2', 'max 10 dBu  channels 1'],
  'Figure balanced': ['max 4 dBu  unbalanced', 'max 4 dBu  balanced'],
  'Figure unbalanced': ['max 4 dBu  unbalanced', 'max 4 dBu'],
  'Figure floating': ['level -8 dBu  max 6 dBu', 'level -8 dBu  max 6 dBu  floating'],

  'Gear gear': ['gear left-over', 'left-over'],
  'Gear is': ['"Third"       is y-lead', '"Third"       y-lead'],
  'ForWhom for': ['is receive  for ada', 'is receive'],
  'OnFrequency on': ['on 863.9 MHz', 'on 864.1 MHz'],
  'Hears hears': ['hears tx.left', 'hears tx.right'],
  'Holding owned': ['peak 115 dB SPL  owned', 'peak 115 dB SPL'],
  'Holding borrowed': ['4 m  borrowed', '4 m'],
  'Holding theirs': ['y-lead   theirs', 'y-lead'],
  'Holding spare': ['passive-di  spare', 'passive-di'],
  'Holding hire': ['hire 10 EUR', 'buy 10 EUR'],
  'Holding buy': ['buy 20 EUR', 'buy 200 EUR'],

  'Performer performer': ['performer ada', 'ada'],
  'Ears ears': ['2 m   ears own-ears', '2 m'],
  'Source source': ['source keys', 'keys'],
  'Source is': ['"Keys"   is', '"Keys"'],
  'By by': ['is bridge   by bo\n', 'is bridge\n'],
  'At at': ['0 m, 1 m', '0 m, 5 m'],
  'Typical typical': ['typical 90 dB SPL', 'typical 70 dB SPL'],
  'Peak peak': ['peak 115 dB SPL', 'peak 130 dB SPL'],
  'Need must': ['by bo  must', 'by bo  could'],
  'Need could': ['by bo  must', 'by bo  could'],

  'Input input': ['input desk.usb1', 'desk.usb1'],
  'Input takes': ['desk.usb1  takes count', 'desk.usb1  count'],
  'InputClause gain': ['gain 30 dB', 'gain 40 dB'],
  'InputClause pad': ['gain 30 dB  pad', 'gain 30 dB'],
  'InputClause phantom': ['gain 30 dB', 'gain 30 dB phantom off'],
  'InputClause on': ['takes bow\n', 'takes bow  phantom on\n'],
  'InputClause off': ['gain 30 dB', 'gain 30 dB phantom off'],
  'Via via': ['takes bass   via box', 'takes bass'],
  'House house': ['house 2  "Speech" own mic', '2  "Speech" own mic'],
  'House own': ['own mic', ''],
  'House mic': ['own mic', 'own'],
  'House takes': ['takes radio-voice', ''],
  'HouseIs is': ['house at 3 m, 1 m', 'house at 3 m, 1 m  is desk-8'],
  'HouseWhose none': ['house at 3 m, 1 m', 'house none'],
  'HouseWhose ours': ['house at 3 m, 1 m', 'house ours'],
  'Mix mix': ['mix bo ', 'bo '],
  'Mix mono': ['mix bo   stereo', 'mix bo   mono'],
  'Mix stereo': ['mix bo   stereo', 'mix bo   mono'],
  'Mix for': ['mono  for ada', 'mono'],
  'Mix house': ['mono for house', 'mono'],
  'Send left': ['left 20 %', 'left 80 %'],
  'Send right': ['right 30 %', 'right 90 %'],
  'Output output': ['output desk.phones', 'desk.phones'],
  'Output carries': ['desk.phones  carries bo', 'desk.phones  bo'],

  // What stands in several statements, in each.
  'Guard GuardDistance': ['set 60 min', 'set 60 min guard carriers 500 kHz'],
  'ModelItem Typical': ['  typical 100 dB SPL', '  typical 80 dB SPL'],
  'SourceClause Typical': ['typical 90 dB SPL', 'typical 70 dB SPL'],
  'ModelItem Peak': ['  peak 120 dB SPL\n', '  peak 130 dB SPL\n'],
  'SourceClause Peak': ['peak 115 dB SPL', 'peak 130 dB SPL'],
  'ModelItem Lowest': ['  lowest 40 Hz\n', ''],
  'SourceClause Lowest': ['lowest 65 Hz', 'lowest 30 Hz'],
  'ModelItem Highest': ['  highest 5 kHz\n', '  highest 15 kHz\n'],
  'SourceClause Highest': ['highest 4 kHz', 'highest 15 kHz'],
  'ModelItem Private': ['  typical 100 dB SPL', '  private typical 100 dB SPL'],
  'SourceClause Private': ['"Hall"   is stage-mic  by bo', '"Hall"   is stage-mic  by bo  private'],
  'ModelItem Holding': ['"Radio set" {\n  borrowed\n', '"Radio set" {\n'],
  'Use LeftOut': ['use "examples/gear/hall-shelf.rig"', 'use "examples/gear/hall-shelf.rig" whole without bo, house'],
  'GearClause Instead': ['buy 20 EUR', 'buy 20 EUR instead'],
  'PerformerClause Instead': ['"Bo"   at -2 m, 3 m', '"Bo"   at -2 m, 3 m instead'],
  'SourceClause Instead': ['is bridge   by bo\nsource keys', 'is bridge   by bo instead\nsource keys'],
  'InputClause Instead': ['takes git\n', 'takes git instead\n'],
  'GearClause Holding': ['4 m  borrowed', '4 m'],
  'SourceClause Holding': ['peak 115 dB SPL  owned', 'peak 115 dB SPL'],
  'GearClause OnFrequency': ['on 863.9 MHz', 'on 864.1 MHz'],
  'SourceClause OnFrequency': ['on 863.5 MHz', 'on 863.4 MHz'],
  'GearClause At': ['is desk-8   at 1 m, 4 m', 'is desk-8   at 3 m, 4 m'],
  'PerformerClause At': ['"Bo"   at -2 m, 3 m', '"Bo"   at -3 m, 3 m'],
  'SourceClause At': ['0 m, 1 m', '0 m, 5 m'],
  'HouseFact At': ['house at 3 m, 1 m', 'house at -3 m, 1 m'],
  'InputClause Via': ['takes bass   via box', 'takes bass'],
  'House Via': ['takes drum  via third.2', 'takes drum'],
  'Output Via': ['carries for-house  via passive-di', 'carries for-house'],
};

/** What counts elsewhere, or not yet, and where. */
export const ELSEWHERE: Readonly<Record<string, string>> = {
  'Origin origin': 'hovers say where figures come from (tests/editor-services/hover.test.ts)',
  'Tunes step': 'in which frequencies are offered (tests/editor-services/fixes.test.ts)',
  'Need should': 'counts as "must" does until a plan has to choose (tests of the planner)',
  'Source or': 'what a plan chooses from (tests of the planner)',
};
