import { readFileSync } from 'node:fs';
import { test } from 'vitest';
import { diagnosticOf } from '#language';
import { applied, open } from './bench';

const tour = readFileSync(new URL(process.env.FILE ?? '../checks/tour.rig', import.meta.url), 'utf8').replace(/^ *#[ ^].*\n/gm, '');
const shelf = readFileSync(new URL('../checks/gear/our-shelf.rig', import.meta.url), 'utf8');
test('look', async () => {
  const b = await open({ 'tour.rig': tour, 'gear/our-shelf.rig': shelf });
  const out: string[] = [];
  for (const l of b.analysis().located) {
    const d = diagnosticOf(l);
    out.push(`${d.range.start.line + 1} ${d.code}: ${d.message}`);
    const actions = (await b.services.lsp.CodeActionProvider!.getCodeActions(b.document, {
      textDocument: { uri: '' },
      range: d.range,
      context: { diagnostics: [d] },
    })) as any[];
    for (const a of actions) {
      const after = applied(b, a.edit)['tour.rig']!.split('\n');
      const x = tour.split('\n');
      const b2 = await open({ 'tour.rig': after.join('\n'), 'gear/our-shelf.rig': shelf });
      const now = b2.analysis().located.map((q) => q.finding);
      const was = b.analysis().located.map((q) => q.finding);
      const fresh = now
        .filter((f) => now.filter((g) => g.code === f.code).length > was.filter((g) => g.code === f.code).length)
        .map((f) => `${f.severity} ${f.code}`);
      const gone = now.filter((f) => f.code === l.finding.code).length < was.filter((f) => f.code === l.finding.code).length;
      out.push(
        `    ${a.isPreferred ? '*' : '-'} ${a.title} ${gone ? '' : 'NOT GONE '}${[...new Set(fresh)].join(', ')}`,
        ...after.filter((q) => !x.includes(q)).map((q) => `          + ${q}`),
      );
    }
  }
  console.log(out.join('\n'));
}, 100000);
