/** Findings in words: how bad by a word and a shape, then what, why and what to do. */
import type { Severity } from '#engine';
import type { Note } from '../../model';
import { SEVERITY_WORDS } from '../words';
import type { Interaction } from './interaction';

export function Notes({ notes, act }: { readonly notes: readonly Note[]; readonly act?: Interaction }) {
  return (
    <ul class="notes">
      {notes.map((note, index) => (
        // biome-ignore lint/a11y/useKeyWithClickEvents: the button in it is what the keyboard reaches.
        <li key={`${note.code} ${index}`} class={`note note-${note.severity}`} onClick={act && (() => act.jump(note.place))}>
          <p>
            <Kind note={note} act={act} /> <span class="note-what">{note.what}</span> <span class="note-why">{note.why}</span>{' '}
            <span class="note-cure">{note.cure}</span> <span class="note-code">{note.code}</span>
          </p>
        </li>
      ))}
    </ul>
  );
}

/** The word is also what the keyboard reaches; the mouse may click anywhere on the finding. */
function Kind({ note, act }: { readonly note: Note; readonly act?: Interaction }) {
  const content = (
    <>
      <Shape severity={note.severity} />
      {SEVERITY_WORDS[note.severity]}
    </>
  );
  if (!act) return <strong class="note-kind">{content}</strong>;
  return (
    <button type="button" class="note-kind" title="Go to it in the text">
      {content}
    </button>
  );
}

/** An eight-sided sign, a crossed disc, a triangle, a ring: told apart without colour. */
function Shape({ severity }: { readonly severity: Severity }) {
  return (
    <svg class="note-shape" viewBox="0 0 16 16" width="14" height="14" aria-hidden="true" focusable="false">
      {severity === 'danger' && (
        <path
          fill="currentColor"
          fill-rule="evenodd"
          d="M5 .8h6L15.2 5v6L11 15.2H5L.8 11V5zM7 3.5l.3 6h1.4l.3-6zm1 7.3a1 1 0 1 0 0 2 1 1 0 0 0 0-2z"
        />
      )}
      {severity === 'error' && (
        <path
          fill="currentColor"
          fill-rule="evenodd"
          d="M8 1a7 7 0 1 0 0 14A7 7 0 0 0 8 1zM5.6 4.5 8 6.9l2.4-2.4 1.1 1.1L9.1 8l2.4 2.4-1.1 1.1L8 9.1l-2.4 2.4-1.1-1.1L6.9 8 4.5 5.6z"
        />
      )}
      {severity === 'warning' && (
        <path
          fill="currentColor"
          fill-rule="evenodd"
          d="M8 1.2 15.5 14.5H.5zM7.2 6l.2 4.2h1.2L8.8 6zm.8 5.1a.9.9 0 1 0 0 1.8.9.9 0 0 0 0-1.8z"
        />
      )}
      {severity === 'note' && (
        <path
          fill="currentColor"
          fill-rule="evenodd"
          d="M8 1a7 7 0 1 0 0 14A7 7 0 0 0 8 1zm0 1.5a5.5 5.5 0 1 1 0 11 5.5 5.5 0 0 1 0-11zM7.3 7h1.4v4.5H7.3zM8 4.3a.9.9 0 1 0 0 1.8.9.9 0 0 0 0-1.8z"
        />
      )}
    </svg>
  );
}
