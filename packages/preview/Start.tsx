/** What the preview shows where there is no sheet yet. */

/** The smallest rig that plugs something in and lets somebody hear it. */
const TITLE = 'rig "My first rig"\n';
const FIRST_LINES = `performer mira   "Mira"
source voice     "Voice"      is dynamic-mic  by mira
gear iface       "Interface"  is interface-4
input iface.1    takes voice
mix mira         mono  for mira  { voice 0 dB }
output iface.phones  carries mira
`;

/** What to type; one title is enough. */
export function firstRig(titled: boolean): string {
  return `${titled ? '' : TITLE}${FIRST_LINES}`;
}

export function Start({ titled }: { readonly titled: boolean }) {
  return (
    <section class="start">
      <h2>Nothing is plugged in yet</h2>
      <p>Say what sounds, what it is plugged into, and who hears it. Each is one line; type these, and put in your own names:</p>
      <pre>
        <code>{firstRig(titled)}</code>
      </pre>
      <p>This page fills as you type. What is missing or would not work is told at its row.</p>
    </section>
  );
}

export function NoRig({ title }: { readonly title: string }) {
  return (
    <section class="start">
      <h2>{title}</h2>
      <p>This file has no rig of its own: it lends its gear to the rigs that use it. Open one of those to see its sheets.</p>
    </section>
  );
}

export function Waiting({ says }: { readonly says: string }) {
  return (
    <section class="start" aria-live="polite">
      <p>{says}</p>
    </section>
  );
}
