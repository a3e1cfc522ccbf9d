/** Findings in words: how bad by a word and a shape, then what, why and what to do. */
import type { Severity } from '#engine';
import type { Note } from '../../shared/model';
import { SEVERITY_SHAPES } from '../severityShapes';
import { kindOf, unbroken } from '../words';
import type { Interaction } from './interaction';

export function Notes({ notes, jump }: { readonly notes: readonly Note[]; readonly jump?: Interaction['jump'] }) {
  return (
    // biome-ignore lint/a11y/noRedundantRoles: without its dots Safari takes it for no list.
    <ul class="notes" role="list">
      {notes.map((note, index) => (
        // biome-ignore lint/a11y/useKeyWithClickEvents: the button in it is what the keyboard reaches.
        <li key={`${note.code} ${index}`} class={`note note-${note.severity}`} onClick={jump && (() => jump(note.place))}>
          <p>
            <Kind note={note} pressed={jump !== undefined} /> <span class="note-what">{unbroken(note.what)}</span>{' '}
            <span class="note-why">{unbroken(note.why)}</span> <span class="note-cure">{unbroken(note.cure)}</span>{' '}
            <span class="note-code">{note.code}</span>
          </p>
        </li>
      ))}
    </ul>
  );
}

/** The word is also what the keyboard reaches; the mouse may click anywhere on the finding. */
function Kind({ note, pressed }: { readonly note: Note; readonly pressed: boolean }) {
  const content = (
    <>
      <Shape severity={note.severity} />
      {kindOf(note)}
    </>
  );
  if (!pressed) return <strong class="note-kind">{content}</strong>;
  return (
    <button type="button" class="note-kind" title="Go to it in the text">
      {content}
    </button>
  );
}

function Shape({ severity }: { readonly severity: Severity }) {
  return (
    <svg class="note-shape" viewBox="0 0 16 16" width="14" height="14" aria-hidden="true" focusable="false">
      <path fill="currentColor" fill-rule="evenodd" d={SEVERITY_SHAPES[severity]} />
    </svg>
  );
}
