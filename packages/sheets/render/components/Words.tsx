import { unbroken } from '../words';
import { UNBROKEN } from './widths';

const LONG_WORD = new RegExp(`(\\S{${UNBROKEN + 1},})`);

/** A long word may be broken wherever it has to be; all others stay whole. */
export function Words({ text: words }: { readonly text: string }) {
  const text = unbroken(words);
  if (!LONG_WORD.test(text)) return <>{text}</>;
  return (
    <>
      {text.split(LONG_WORD).map((part, index) =>
        index % 2 === 0 ? (
          // What holds fast to a word that is broken itself would be broken with it.
          part.replace(/^\u00a0/, index === 0 ? '$&' : ' ')
        ) : (
          <span key={index} class="long">
            {part}
          </span>
        ),
      )}
    </>
  );
}
