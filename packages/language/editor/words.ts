/** What each word of the language says, in one line, with an example. Known by the rule of the grammar that it stands in. */

export interface Word {
  readonly says: string;
  readonly example: string;
}

const word = (says: string, example: string): Word => ({ says, example });

const STEREO = word('Two channels, left and right: two outputs, and both sides of a pack.', 'mix oye stereo for oye { kick -2 dB }');
const MONO = word('One channel: one output, or one side of a shared transmitter.', 'mix ilse mono for ilse { voice 0 dB }');

const WORDS: Readonly<Record<string, Word>> = {
  // the whole
  'Header/rig': word('What this file is, and figures for the whole.', 'rig "Lantern Quay, club set"  region EU  rate 48 kHz'),
  'Region/region': word(
    'Where it is played: which radio bands can come into question. The local regulator decides what you may use.',
    'region EU',
  ),
  'Country/country': word('The country it is played in, for what differs inside a region.', 'country DE'),
  'Licensed/licensed': word('You hold a radio licence for this place and day.', 'licensed'),
  'Rate/rate': word('The sample rate of everything digital. One device is the clock, all follow it.', 'rate 48 kHz'),
  'BufferSize/buffer': word(
    'How many samples the computer keeps in hand: fewer is sooner in the ears, too few crackles.',
    'buffer 64 samples',
  ),
  'Budget/budget': word('What may be spent on what is bought or hired.', 'budget 220 EUR'),
  'SetTime/set': word('How long you play: for batteries and for ears.', 'set 75 min'),
  'SoundCheck/check': word('How long the sound check takes: batteries and ears count it too.', 'check 40 min'),
  'Listening/listening': word(
    'How loud you listen as a rule, at the ear: for the estimate of what a night comes to.',
    'listening 94 dB SPL',
  ),
  'Stage/stage': word(
    'Width by depth. 0, 0 is the middle of the front edge; x grows to the performers’ left, y away from the audience.',
    'stage 8 m by 5 m',
  ),
  'Stage/by': word('Then the depth of the stage.', 'stage 8 m by 5 m'),
  'Headroom/headroom': word('Room kept above the usual level when gains are worked out; 20 dB where nothing is said.', 'headroom 20 dB'),
  'Margin/margin': word('Room kept above the loudest peak, as people play louder at the show; 6 dB where nothing is said.', 'margin 6 dB'),
  'Lengths/lengths': word('The lengths of lead that you have or can get.', 'lengths 1 m, 3 m, 6 m, 10 m'),
  'LeadsHad/leads': word(
    'The leads that you have: how many, the plug that goes into an output, then the one that goes into an input where it is another, and how long. The shopping sheet takes them from what is needed; a longer one does for a shorter.',
    'leads 6 xlr 5 m, 2 trs xlr 3 m',
  ),
  'Mains/mains': word('Who feeds what from which mains.', 'mains shared'),
  'Mains/shared': word('One mains distribution feeds us and the house: the first cure for hum.', 'mains shared'),
  'Circuit/circuit': word('The fuse and the voltage of the one circuit that feeds us, as the venue says.', 'circuit 16 A 230 V'),
  'Day/date': word('The day, in words of your own: it is printed on every page.', 'date "Friday 4 December 2026"'),
  'Venue/venue': word('Where you play: it is printed on every page.', 'venue "Old sawmill, upper hall"'),
  'Contact/contact': word(
    'Whom to ask about this rig, and how: it is printed on every page. There may be many of these.',
    'contact "Maja, monitors: 555 0123"',
  ),
  'Avoid/avoid': word('Frequencies to stay clear of here, and why. There may be many of these.', 'avoid 470..478 MHz "local television"'),
  'Scan/scan': word(
    'A scan of what is on the air in the room: a CSV file beside this one, with a frequency in MHz and a level in dBm in each line. There may be many of these.',
    'scan "room.csv" above -85 dBm',
  ),
  'Scan/above': word('From which level on the scan is kept clear of; -85 dBm where nothing is said.', 'scan "room.csv" above -90 dBm'),
  'Guard/guard': word(
    'How far carriers, and what two or three of them make together, have to stay from each other.',
    'guard carriers 300 kHz, pairs 100 kHz, triples 50 kHz, fifths 50 kHz',
  ),
  'GuardDistance/carriers': word('From one carrier to the next; 300 kHz where nothing is said.', 'guard carriers 400 kHz'),
  'GuardDistance/pairs': word(
    'From a carrier to what two others make together (third-order products, false carriers); 100 kHz where nothing is said.',
    'guard pairs 150 kHz',
  ),
  'GuardDistance/triples': word(
    'From a carrier to what three others make together (third-order products); 50 kHz where nothing is said.',
    'guard triples 75 kHz',
  ),
  'GuardDistance/fifths': word(
    'From a carrier to the weaker products of two others (fifth-order); 50 kHz where nothing is said.',
    'guard fifths 0 kHz',
  ),
  'Use/use': word(
    'Brings in another file’s models, gear, performers and sources. The path starts from this file’s folder.',
    'use "gear/our-shelf.rig"',
  ),
  'Use/whole': word(
    'Takes over the whole rig of that file: what is plugged where and who hears what, too. This file is another night of the same band, and says what differs.',
    'use "band.rig" whole without tomek',
  ),
  'Use/without': word(
    'Who and what is not there on this night. With somebody go what they play, their packs and the mixes for them alone.',
    'use "band.rig" whole without tomek, house',
  ),
  'LeftOut/house': word('Leaves out all lines of the house’s, where the house is another.', 'use "band.rig" whole without house'),
  'Instead/instead': word(
    'Takes the place of what the rig that is used whole has of this name, or for this socket.',
    'gear iface is interface-8-mic hire 40 EUR instead',
  ),

  // gear and what it is made of
  'Model/model': word('A kind of gear: its ports and their figures.', 'model our-di "Our DI" is passive-di { owned }'),
  'Model/is': word(
    'The model that this one is made from. It has everything of it that it does not say itself.',
    'model our-di is passive-di { owned }',
  ),
  'Port/input': word(
    'Sockets that a signal goes into: their names, connector, and what they take.',
    'input 1..2 combo { mic impedance 2 kohm max 2 dBu gain 0..55 dB }',
  ),
  'Port/output': word(
    'Sockets that a signal comes out of: their names, connector, and what they give.',
    'output 1..8 trs line impedance 150 ohm max 16 dBu',
  ),
  'PhantomBudget/phantom': word('The current that the whole unit can supply to microphones.', 'phantom 20 mA'),
  'Mixes/mixes': word('How many mixes it can make, and how wide. Two mono mixes fit on one stereo mix.', 'mixes 4 stereo'),
  'Mixes/mono': word('Mixes of one channel each.', 'mixes 8 mono'),
  'Mixes/stereo': word('Mixes of two channels each.', 'mixes 4 stereo'),
  'Latency/latency': word('How much later the sound comes out than it goes in.', 'latency 1.4 ms'),
  'Rates/rates': word('The sample rates that it can be set to. All that is digital runs at one.', 'rates 44.1 kHz, 48 kHz'),
  'Power/power': word('What it runs on: for how long on a battery, with which cells, or at how many watts.', 'power battery 6 h 2 AA'),
  'Lowest/lowest': word('The lowest note that is expected of it.', 'lowest 41.2 Hz'),
  'Highest/highest': word('The highest frequency that its sound needs, overtones and all.', 'highest 5 kHz'),
  'Tunes/tunes': word(
    'The frequencies a radio set can be tuned to. What you may use is the local regulator’s to say.',
    'tunes 863..865 MHz',
  ),
  'Tunes/step': word(
    'From one frequency that it can be set to to the next; 25 kHz where nothing is said.',
    'tunes 863..865 MHz step 5 kHz',
  ),
  'CarrierKind/carrier': word('How it sends, and how wide; analogue and 200 kHz where nothing is said.', 'carrier analogue 180 kHz'),
  'CarrierKind/analogue': word('Frequency modulation: with others it makes products (false carriers).', 'carrier analogue 180 kHz'),
  'CarrierKind/digital': word(
    'A digital carrier on a frequency of its own. It is taken to make no products, and to suffer from those of others.',
    'carrier digital 400 kHz',
  ),
  'CarrierKind/hopping': word(
    'A digital link that looks for free channels by itself, as those at 2.4 GHz do: there is no frequency to set.',
    'carrier hopping',
  ),
  'SideSelect/side-select': word(
    'A receiver that can pick one side of a stereo transmission, so that two people share a transmitter.',
    'side-select',
  ),
  'MonoSwitch/mono-switch': word('A pack or an amplifier that can play what comes in on one side in both ears.', 'mono-switch'),
  'Private/private': word(
    'Never meant for the audience: a click, a talkback. Of a player with several outputs only those that are named.',
    'private right',
  ),
  'Private/public': word('Meant for the audience after all, whatever its name sounds like.', 'public'),
  'Origin/origin': word('Where the figures come from.', 'origin "its data sheet"'),
  'Separate/separate': word(
    'Each of these ports carries a channel of its own, such as a keyboard’s left and right.',
    'output left, right ts separate line',
  ),
  'PortPrivate/private': word(
    'What comes out here is never meant for the audience; other outputs may be.',
    'output click ts separate private line',
  ),
  'Tail/tail': word('The port is a plug at the end of a lead of its own, this long.', 'output 1..8 xlr tail 5 m'),
  'Tie/from': word('Which input of the same gear this output comes from, and how.', 'output out xlr from in transformer 12:1 mic'),
  'Tie/parallel': word('Joined straight through by copper. Phantom power and hum go through too.', 'output thru ts from in parallel'),
  'Tie/transformer': word(
    'Through a transformer of this ratio: isolated, and no phantom power goes through.',
    'output iso xlr from in transformer 1:1',
  ),
  'Tie/active': word(
    'Through electronics, which need power and do not load what is before them.',
    'output out xlr from in active gain -20 dB',
  ),
  'Tie/switch': word('One of several inputs at a time.', 'output out ts from a, b switch'),
  'TiePart/gain': word('What the electronics add, or take away with a minus.', 'gain -20 dB'),
  'TiePart/pad': word('What is taken away on the way.', 'pad 20 dB'),
  'TiePart/isolated': word('No metal path from this input to this output.', 'from in active isolated'),
  'SignalKind/mic': word('Microphone level: thousandths of a volt.', 'mic impedance 2 kohm max 2 dBu gain 0..55 dB'),
  'SignalKind/instrument': word('A pickup’s level, into an input that hardly loads it.', 'instrument impedance 1 Mohm max 10 dBu'),
  'SignalKind/line': word('Line level: around one volt.', 'line impedance 10 kohm max 20 dBu'),
  'SignalKind/phones': word('What drives earphones, or what earphones take.', 'phones impedance 30 ohm max 8 dBu channels 2'),
  'SignalKind/speaker': word('DANGER: tens of volts, for a loudspeaker and nothing else.', 'output speaker speaker-jack speaker'),
  'SignalKind/digital': word('Numbers: over USB, optical or coaxial.', 'input usb1..usb8 digital'),
  'SignalKind/radio': word('Through the air.', 'output air from left, right active radio channels 2'),
  'Figure/impedance': word(
    'How many ohms an output has inside, or an input loads it with. An input should have five to ten times as many.',
    'impedance 150 ohm',
  ),
  'Figure/capacitance': word('A piezo element’s own, in series with what it gives.', 'capacitance 2 nF'),
  'Figure/inductance': word('A pickup winding’s own: with the lead’s capacitance it sets where the highs end.', 'inductance 4 H'),
  'Figure/max': word('The level that just does not clip, at the lowest gain; of a microphone, the loudest sound.', 'max 20 dBu'),
  'Figure/limiter': word('With its limiter on, the highest level that this output gives, whatever comes in.', 'limiter -6 dBu'),
  'Figure/level': word('What comes out while it is played as usual.', 'level -20 dBu'),
  'Figure/sensitivity': word(
    'Of a microphone, volts for a pressure; of earphones, the sound level of one milliwatt.',
    'sensitivity 1.2 mV/Pa',
  ),
  'Figure/gain': word('What the knob can do, from the lowest to the highest.', 'gain 0..55 dB'),
  'Figure/noise': word('The input’s own noise, as if it came in with the signal.', 'noise -127 dBu'),
  'Figure/self-noise': word(
    'A microphone’s own noise, as the sound that would give as much; A-weighted in data sheets. 20 dB SPL where one with electronics says nothing.',
    'self-noise 14 dB SPL',
  ),
  'Figure/dynamic-range': word(
    'From where this input clips at its lowest gain down to the noise of its converter; A-weighted in data sheets. 110 dB where nothing is said.',
    'dynamic-range 114 dB',
  ),
  'Figure/pad': word('A pad that this input can switch in.', 'pad 20 dB'),
  'Figure/phantom': word('Whether this input gives phantom power, or what this output makes of it.', 'phantom shared'),
  'Figure/each': word('Every input has a phantom switch of its own.', 'phantom each'),
  'Figure/shared': word('The inputs of this line have one phantom switch between them.', 'phantom shared'),
  'Figure/needed': word('Dead without phantom power.', 'phantom needed'),
  'Figure/harmful': word('Phantom power can destroy it.', 'phantom harmful'),
  'Figure/draws': word('The current it takes of the phantom power.', 'draws 4 mA'),
  'Figure/channels': word('How many channels this one connector carries.', 'channels 8'),
  'Figure/balanced': word('Two signal wires and a screen: long leads stay quiet.', 'balanced'),
  'Figure/unbalanced': word('One signal wire and a screen: keep the lead short.', 'unbalanced'),
  'Figure/floating': word('Balanced, and gives all its level into one contact as well, as a transformer does.', 'floating'),
  'Gear/gear': word('One real thing that has a name.', 'gear iface "Interface" is interface-8 at 1 m, 4 m'),
  'Gear/is': word('The model that it is.', 'gear iface is interface-8'),
  'ForWhom/for': word('Who wears or uses it.', 'gear pack-i is belt-pack for ilse hears tx.left'),
  'OnFrequency/on': word('The frequency it is set to.', 'on 863.3 MHz'),
  'Hears/hears': word('The transmitter a pack listens to, and its side.', 'hears tx.left'),
  'Holding/owned': word('You have it.', 'owned'),
  'Holding/borrowed': word('You get it from somebody: ask before the day.', 'borrowed'),
  'Holding/theirs': word('The house’s: on the way of the signal, not on your pack list.', 'theirs'),
  'Holding/spare': word('In the case, for when another one fails. Whose it is may stand beside it, as in "borrowed spare".', 'spare'),
  'Holding/hire': word('Hired, for this price.', 'hire 12 EUR'),
  'Holding/buy': word('Still to be bought, for this price.', 'buy 25 EUR'),

  // people and what they play
  'Performer/performer': word('A person, and where they stand.', 'performer ilse "Ilse" at -1 m, 1.5 m'),
  'Ears/ears': word('The earphones this person wears.', 'ears earphones'),
  'At/at': word('Where it stands: to the performers’ left of the middle of the front edge, and away from the audience.', 'at -1 m, 1.5 m'),
  'Source/source': word(
    'Something that makes a signal: a microphone, a pickup, a channel of the computer.',
    'source voice "Lead vocal" is dynamic-mic by ilse',
  ),
  'Source/or': word(
    'What it may be taken by instead. The first is how it is taken; a plan may choose another, and writes it first.',
    'source bass is amp-line-out or dynamic-mic',
  ),
  'Source/is': word('The model that it is.', 'source voice is dynamic-mic'),
  'By/by': word('Who plays or sings it.', 'by ilse'),
  'Typical/typical': word('How loud it usually is, at the microphone or at its output.', 'typical 100 dB SPL'),
  'Peak/peak': word('How loud it gets at most.', 'peak 120 dB SPL'),
  'Need/must': word('The show cannot go on without it in the ears.', 'must'),
  'Need/should': word('Wanted in the ears.', 'should'),
  'Need/could': word('Nice to have in the ears, if a port is left.', 'could'),

  // what is plugged where
  'Input/input': word('What lands on a port of our gear.', 'input iface.1 takes voice via y-lead'),
  'Input/takes': word('The source that is plugged in here.', 'input iface.1 takes voice'),
  'InputClause/gain': word('The gain that is set here.', 'gain 34 dB'),
  'InputClause/pad': word('The pad of this input is switched in.', 'pad'),
  'InputClause/phantom': word(
    'Whether this input’s phantom power is on, where it is not to follow from what is plugged in.',
    'phantom off',
  ),
  'InputClause/on': word('Phantom power (48 V) is on at this input.', 'phantom on'),
  'InputClause/off': word('Phantom power stays off at this input, as when the house supplies it.', 'phantom off'),
  'Via/via': word(
    'What the signal goes through on its way, in order: names of gear, or models for pieces that need no name.',
    'via bass-di.thru, their-di',
  ),
  'House/house': word(
    'Where the house’s stage box is, or one channel of the house’s desk and what it takes.',
    'house 8 "Lead vocal" takes voice',
  ),
  'HouseIs/is': word('The model of the house’s sockets, where you know more of them than usual.', 'house is club-box'),
  'House/instead': word('Takes the place of the one in the rig that is used whole.', 'house 8 "Lead vocal" takes voice instead'),
  'Mix/instead': word('Takes the place of the one in the rig that is used whole.', 'mix ada mono for ada { voice 0 dB } instead'),
  'Output/instead': word('Takes the place of the one in the rig that is used whole.', 'output iface.3 carries ada instead'),
  'HouseWhose/none': word('There is no house: we play without a desk of theirs and without loudspeakers.', 'house none'),
  'HouseWhose/ours': word('There is no house but us: we play over our own loudspeakers. A mix for the house goes to them.', 'house ours'),
  'House/own': word('The house puts up a microphone of its own here.', 'house 1 "Kick" own mic'),
  'House/mic': word('The house puts up a microphone of its own here.', 'house 1 "Kick" own mic'),
  'House/takes': word('What this channel of the house gets from us: a source, or a mix.', 'house 15 "Tracks" takes for-house'),
  'Mix/mix': word('What somebody hears, or what the house gets from us.', 'mix ilse mono for ilse { voice 0 dB  click -14 dB }'),
  'Mix/mono': MONO,
  'Mix/stereo': STEREO,
  'Mix/for': word('Who hears it: performers, or the house.', 'for ilse, tomek'),
  'Mix/house': word('This mix is for the audience: no click, no talkback.', 'mix for-house mono for house { tracks 0 dB }'),
  'Send/left': word('How far to the left this source sits.', 'bass -3 dB left 20 %'),
  'Send/right': word('How far to the right this source sits.', 'bass -3 dB right 20 %'),
  'Output/output': word('Where a mix leaves our gear, and how it gets to the ears.', 'output iface.1 carries ilse via tx.left'),
  'Output/carries': word('The mix that leaves here.', 'output iface.1 carries ilse'),
};

/** What a word says where it stands in this rule of the grammar. */
export function wordAt(rule: string, keyword: string): Word | undefined {
  return WORDS[`${rule}/${keyword}`];
}
