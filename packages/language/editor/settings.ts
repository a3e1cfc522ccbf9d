/** What the person at the editor wants to see, and which of our commands the editor has. Everything is on until told otherwise. */

export interface Wishes {
  readonly hints: { readonly gain: boolean; readonly headroom: boolean; readonly lead: boolean };
  readonly lenses: { readonly rig: boolean; readonly gear: boolean; readonly mixes: boolean };
}

/** The same as the defaults in package.json, for editors that know nothing of those. A test holds them to each other. */
export const DEFAULT_WISHES: Wishes = {
  hints: { gain: true, headroom: true, lead: true },
  // A line above each mix would pull apart the columns that mixes stand in.
  lenses: { rig: true, gear: true, mixes: false },
};

/** What a lens or a link can do when it is clicked, by the editor's own command for it. What the editor has no command for is not offered. */
export interface Commands {
  /** Takes the address of a rig. */
  readonly openSheets?: string;
  readonly showProblems?: string;
  /** The page of the whole language. */
  readonly openLanguage?: string;
  /** Takes the address of a rig, and the name of the source to find a place for. */
  readonly planRig?: string;
}

export class Settings {
  wishes: Wishes = DEFAULT_WISHES;
  commands: Commands = {};

  /** Takes what a client has for the section `earloom`, whatever shape it is in. Tells whether anything is different now. */
  take(section: unknown): boolean {
    const before = JSON.stringify(this.wishes);
    this.wishes = { hints: filled(DEFAULT_WISHES.hints, section, 'hints'), lenses: filled(DEFAULT_WISHES.lenses, section, 'lenses') };
    return JSON.stringify(this.wishes) !== before;
  }

  /** Takes what a client says of its commands when it starts us. */
  takeCommands(options: unknown): void {
    const text = (name: string) => {
      const value = member(member(options, 'commands'), name);
      return typeof value === 'string' && value !== '' ? value : undefined;
    };
    this.commands = {
      openSheets: text('openSheets'),
      showProblems: text('showProblems'),
      openLanguage: text('openLanguage'),
      planRig: text('planRig'),
    };
  }
}

function filled<T extends Readonly<Record<string, boolean>>>(defaults: T, section: unknown, group: string): T {
  const written = member(section, group);
  const entries = Object.entries(defaults).map(([name, value]) => {
    // Some clients keep `hints.gain` as one name.
    const wish = member(written, name) ?? member(section, `${group}.${name}`);
    return [name, typeof wish === 'boolean' ? wish : value];
  });
  return Object.fromEntries(entries);
}

function member(value: unknown, name: string): unknown {
  return typeof value === 'object' && value !== null ? (value as Readonly<Record<string, unknown>>)[name] : undefined;
}
