/** A picture of a page in the colours that it needs. */
import { execFileSync } from 'node:child_process';

const COLOURS = '256';

/** A third of the bytes, by ImageMagick; where that is not on the path, the picture stays as it is. */
export function smaller(picture) {
  try {
    execFileSync('convert', [picture, '+dither', '-colors', COLOURS, '-strip', '-define', 'png:compression-level=9', `PNG8:${picture}`]);
  } catch {
    console.warn(`${picture} is larger than it need be: ImageMagick's "convert" is not on the path.`);
  }
}
