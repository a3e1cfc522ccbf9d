import 'core-js/actual/object/group-by.js';
import { EmptyFileSystem, URI } from 'langium';
import { RigLoader } from '#language';
import { patchList } from '#sheets';
import { generateRig } from '../generate';
(async () => {
  const [, , lines, runs, what] = process.argv;
  const text = generateRig(Number(lines), 7);
  const loader = new RigLoader(EmptyFileSystem.fileSystemProvider(), URI.parse('memory:///bench/'));
  const { LangiumDocuments } = loader.services.shared.workspace;
  let t = 0, s = 0; 
  for (let i = 0; i < Number(runs); i++) {
    const uri = URI.parse(`memory:///bench/rig-${i}.rig`);
    const document = await loader.loadText(text, uri);
    const c0 = process.cpuUsage(); const t0=performance.now();
    const a = loader.services.rig.Analyser.of(document);
    const c = process.cpuUsage(c0); t += c.user / 1000; 
    console.error('wall', (performance.now()-t0).toFixed(1), 'cpu', ((c.user+c.system)/1000).toFixed(1));
    if (what) { const t1=performance.now(); patchList(a.checked!); s += performance.now()-t1; }
    LangiumDocuments.deleteDocument(uri);
  }
  console.error(lines, (t / Number(runs)).toFixed(1), (s/Number(runs)).toFixed(1));
})();
