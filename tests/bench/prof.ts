import 'core-js/actual/object/group-by.js';
import { EmptyFileSystem, URI } from 'langium';
import { RigLoader } from '#language';
import { check } from '#engine';
import { patchList } from '#sheets';
import { generateRig } from '../generate';
(async () => {
  for (const lines of [300, 1000, 3000, 10000]) {
    const text = generateRig(lines, 7);
    const best: Record<string, number> = {};
    const time = (name: string, work: () => unknown) => { const t = performance.now(); const r = work(); best[name] = Math.min(best[name] ?? 1e9, performance.now() - t); return r; };
    for (let k = 0; k < (lines > 5000 ? 3 : 6); k++) {
      const loader = new RigLoader(EmptyFileSystem.fileSystemProvider(), URI.parse('memory:///bench/'));
      for (let i = 0; i < 6; i++) {
        const uri = URI.parse(`memory:///bench/rig-${i}.rig`);
        const t = performance.now();
        const document = await loader.loadText(text, uri);
        best.parse = Math.min(best.parse ?? 1e9, performance.now() - t);
        const a = time('analyse', () => loader.services.rig.Analyser.of(document)) as any;
        time('engine', () => check(a.checked.rig));
        time('sheet', () => patchList(a.checked));
        loader.services.shared.workspace.LangiumDocuments.deleteDocument(uri);
      }
    }
    console.log(lines, Object.entries(best).map(([k, v]) => `${k} ${v.toFixed(2)}`).join('  '));
  }
})();
