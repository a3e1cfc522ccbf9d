import 'core-js/actual/object/group-by.js';
import { EmptyFileSystem, URI } from 'langium';
import { RigLoader, diagnosticOf } from '#language';
import { message } from '#engine';
import { patchList, renderPatchList } from '#sheets';
import { generateRig, randomFrom } from '../generate';
const r = randomFrom(5);
const bytes = (n: number) => Buffer.from(Array.from({ length: n }, () => Math.floor(r() * 256)));
const cases: Record<string, () => string> = {
  'random bytes utf8 lossy': () => bytes(20000).toString('utf-8'),
  'random latin1': () => bytes(20000).toString('latin1'),
  'random ascii': () => Array.from({ length: 50000 }, () => String.fromCharCode(32 + Math.floor(r() * 95))).join(''),
  'nuls': () => '\0'.repeat(10000),
  'unclosed everything': () => 'rig "x\nmodel a is b {\n input 1 {\n mic {\n mix q { \nmix r for a { "\n'.repeat(200),
  'quotes': () => '"'.repeat(100000),
  'curly quotes': () => '\u201c'.repeat(100000),
  '100k open braces': () => '{'.repeat(100000),
  '100k open in model': () => `model a ${'{ '.repeat(100000)}`,
  '100k close': () => '}'.repeat(100000),
  '100k mixed': () => `model a ${'{'.repeat(50000)}${'}'.repeat(50000)}`,
  'mix braces': () => 'mix a {'.repeat(20000),
  'model chain 5000': () => Array.from({ length: 5000 }, (_, i) => `model m${i} is m${i + 1}`).join('\n') + '\ngear g is m0\nrig "x"',
  'model chain 5000 rev': () => Array.from({ length: 5000 }, (_, i) => `model m${i} is m${i + 1} { input in${i} xlr mic }`).reverse().join('\n') + '\ngear g is m0\nrig "x"',
  'model loop 5000': () => Array.from({ length: 5000 }, (_, i) => `model m${i} is m${(i + 1) % 5000}`).join('\n') + '\ngear g is m0\nrig "x"',
  'via 10000': () => `rig "x"\nsource v is dynamic-mic\ngear i is interface-8\ninput i.1 takes v via ${Array.from({ length: 10000 }, () => 'y-lead').join(', ')}`,
  'via 10000 named': () => `rig "x"\nsource v is dynamic-mic\ngear i is interface-8\ngear y is y-lead\ninput i.1 takes v via ${Array.from({ length: 10000 }, () => 'y').join(', ')}`,
  'takes chain gear': () => `rig "x"\n` + Array.from({ length: 3000 }, (_, i) => `gear g${i} is preamp-expander\ninput g${i}.1 takes g${i + 1}`).join('\n'),
  'gear loop via': () => `rig "x"\nsource v is dynamic-mic\ngear a is y-lead\ngear b is y-lead\n` + Array.from({ length: 2000 }, (_, i) => `input ${i % 2 ? 'a' : 'b'}.in takes v via ${i % 2 ? 'b' : 'a'}`).join('\n'),
  'huge numbers': () => 'rig "x"\n rate 1e999 Hz\n set 99999999999999999999999999999999999999999999 min\nsource v is dynamic-mic peak 1' + '0'.repeat(400) + ' dB SPL\n performer a at 1' + '0'.repeat(400) + ' m, -1' + '0'.repeat(400) + ' m\n headroom 1' + '0'.repeat(300) + ' dB\n',
  'ranges': () => 'model a { input 1..999999999 xlr mic\n output 999999999..1 xlr\n input a1..b9 xlr\n input 1..99999999999999999999999 mic\n phantom 1 mA }\ngear g is a\ninput g.1..999999999 takes x\nrig "x"',
  '1MB line': () => `performer a "${'x'.repeat(1 << 20)}"`,
  '1MB name': () => `performer ${'x'.repeat(1 << 20)}\nsource v is ${'y'.repeat(1 << 20)}`,
  '1MB comment': () => `# ${'x'.repeat(1 << 20)}`,
  '1MB of at': () => `performer a ${'at 1 m, 2 m '.repeat(90000)}`,
  '1MB sends': () => `rig "x"\nmix a for b { ${'v 0 dB '.repeat(150000)} }`,
  '1MB spaces': () => ' '.repeat(1 << 20) + 'performer a',
  '1MB digits': () => `performer a at ${'1'.repeat(1 << 20)} m, 2 m`,
  '1MB newlines': () => '\n'.repeat(1 << 20) + 'performer a',
  'digits minus': () => '1-'.repeat(200000),
  'dots': () => '.'.repeat(200000),
  'minus': () => '-'.repeat(200000),
  'emoji rtl': () => 'rig "🎺 שלום \u202e"\nperformer 太郎 "مرحبا"\nsource 🎷 "👨‍👩‍👧‍👦" is dynamic-mic by 太郎\ngear g is interface-8\ninput g.1 takes 🎷\nmix m for 太郎 { 🎷 0 dB }\noutput g.phones1 carries m',
  'lone surrogates': () => 'performer \ud800 "\udc00\ud800"\nsource \udfff is x',
  'html': () => 'rig "<script>alert(1)</script>"\nperformer a "<img src=x onerror=alert(1)>"\nsource v "\'\\"><svg/onload=alert(1)>" is dynamic-mic by a',
  'proto names': () => 'rig "x"\nperformer __proto__\nperformer constructor\nsource toString is dynamic-mic by constructor\nsource hasOwnProperty is __proto__\ngear valueOf is interface-8\ninput valueOf.1 takes toString\ninput valueOf.constructor takes __proto__\nmix isPrototypeOf for __proto__ { toString 0 dB }\noutput valueOf.__proto__ carries isPrototypeOf\nmodel constructor is constructor { input __proto__ constructor mic }\ngear c is constructor',
  'dups 3000': () => 'performer a\n'.repeat(3000) + 'rig "x"\n'.repeat(3000),
  'unknown 3000': () => 'rig "x"\n' + Array.from({ length: 3000 }, (_, i) => `source s${i} is nomodel${i} by nobody${i}`).join('\n'),
  'unknown 10000 long': () => 'rig "x"\n' + Array.from({ length: 10000 }, (_, i) => `input iface${i}.1 takes nothing${i} via who${i}`).join('\n') + '\n' + Array.from({ length: 3000 }, (_, i) => `source s${i} is dynamic-mic`).join('\n'),
  '10000 lines': () => generateRig(10000, 3),
  '10000 lines no newline': () => generateRig(10000, 3).replace(/#.*$/gm, '').replace(/\n/g, ' '),
  'one statement word x100k': () => 'rig '.repeat(100000),
  'house x20000': () => 'house 1 own mic\n'.repeat(20000),
  'one gear 5000 inputs': () => 'rig "x"\ngear i is interface-16\n' + Array.from({ length: 5000 }, (_, i) => `source s${i} is dynamic-mic\ninput i.${(i % 8) + 1} takes s${i}`).join('\n'),
  'one source 5000 takers': () => 'rig "x"\nsource s is dynamic-mic\n' + Array.from({ length: 2500 }, (_, i) => `gear i${i} is interface-16\ninput i${i}.1 takes s via y-lead`).join('\n'),
  'few takers 600': () => 'rig "x"\nsource s is dynamic-mic\n' + Array.from({ length: 600 }, (_, i) => `gear i${i} is interface-16\ninput i${i}.1 takes s via y-lead`).join('\n'),
  'one mix 5000 outputs': () => 'rig "x"\nperformer p\nmix m for p { }\n' + Array.from({ length: 3000 }, (_, i) => `gear i${i} is interface-16\noutput i${i}.1 carries m`).join('\n'),
  'model with 5000 ports': () => 'rig "x"\nmodel big { ' + Array.from({ length: 5000 }, (_, i) => `input a${i} xlr mic`).join('\n') + Array.from({ length: 5000 }, (_, i) => `output b${i} xlr from a${i} parallel`).join('\n') + '}\ngear g is big\nsource s is dynamic-mic\n' + Array.from({ length: 1000 }, (_, i) => `input g.a${i} takes s`).join('\n'),
  'ports 256 x 256': () => 'rig "x"\nmodel big { ' + Array.from({ length: 256 }, (_, i) => `input a${i}x1..a${i}x256 xlr mic`).join('\n') + '}\ngear g is big',
  'ties all to all': () => 'rig "x"\nmodel big { input a1..a200 xlr\n output b1..b200 xlr from a1..a200 active mic }\n' + 'gear g1 is big\ngear g2 is big\n' + Array.from({ length: 200 }, (_, i) => `source s${i} is dynamic-mic\ninput g1.a${i + 1} takes s${i}\n`).join('') + 'gear i is interface-8\ninput i.1 takes s1 via g1, g2',
  'same name 10000 refs sends': () => 'rig "x"\n' + Array.from({ length: 500 }, (_, i) => `source s${i} is dynamic-mic`).join('\n') + '\n' + Array.from({ length: 40 }, (_, i) => `mix m${i} { ${Array.from({ length: 500 }, (_, k) => `s${k} 0 dB`).join(' ')} }`).join('\n'),
  'lengths': () => `rig "x" lengths ${Array.from({ length: 50000 }, (_, i) => `${i + 1} m`).join(', ')}`,
};
(async () => {
  const only = process.argv.slice(2);
  for (const [name, make] of Object.entries(cases)) {
    if (only.length && !only.some((o) => name.includes(o))) continue;
    const text = make();
    const loader = new RigLoader(EmptyFileSystem.fileSystemProvider(), URI.parse('memory:///x/'));
    const t0 = performance.now();
    let says = '';
    try {
      const d = await loader.loadText(text, URI.parse('memory:///x/a.rig'));
      const t1 = performance.now();
      const a = loader.services.rig.Analyser.of(d);
      const t2 = performance.now();
      a.located.map(diagnosticOf); a.located.map((l) => message(l.finding));
      const t3 = performance.now();
      let t4 = t3;
      if (a.checked) { if (!process.env.NOSHEET) { const l = patchList(a.checked, a.located.map((x) => x.finding)); for (const f of ['text', 'markdown', 'csv', 'html'] as const) renderPatchList(l, f); } t4 = performance.now(); }
      says = `parse ${(t1 - t0).toFixed(0)} analyse ${(t2 - t1).toFixed(0)} diag ${(t3 - t2).toFixed(0)} sheet ${(t4 - t3).toFixed(0)} findings ${a.located.length} first ${a.located[0]?.finding.code} maxmsg ${a.located.reduce((m, l) => Math.max(m, message(l.finding).length), 0)}`;
    } catch (e) { says = 'THROWS ' + String((e as Error).stack).split('\n').slice(0, 6).join(' | '); }
    const total = performance.now() - t0;
    console.log(total > 2000 ? 'SLOW' : '    ', name.padEnd(26), total.toFixed(0).padStart(6), says);
  }
})();
