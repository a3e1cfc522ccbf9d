import 'core-js/actual/object/group-by.js';
import { EmptyFileSystem, URI } from 'langium';
import { RigLoader } from '#language';
import { check } from '#engine';
import { patchList } from '#sheets';
import { generateRig } from '../generate';
(async () => {
  const lines = Number(process.argv[2]);
    const text = generateRig(lines, 7);
      const loader = new RigLoader(EmptyFileSystem.fileSystemProvider(), URI.parse('memory:///bench/'));
        const uri = URI.parse(`memory:///bench/rig.rig`);
        const document = await loader.loadText(text, uri);
        const a = loader.services.rig.Analyser.of(document);
        const rig = a.checked!.rig;
        for (let i = 0; i < 100000 / lines * 4; i++) { if (process.argv[3]==='sheet') patchList(a.checked!); else check(rig); }
})();
