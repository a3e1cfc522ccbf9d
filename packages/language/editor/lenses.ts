/** Code lenses: the sheets and what is wrong above the rig, what is used above its gear, who hears it above a mix. */
import type { LangiumDocument } from 'langium';
import type { CodeLensProvider } from 'langium/lsp';
import type { CodeLens, Command, Range } from 'vscode-languageserver';
import { type Checked, list, mixesNeeded, plugName, SignalPath, type Stop, stopKey, tidy } from '#engine';
import type { Mix, Piece, Place } from '#rig';
import type { Analysis } from '../analysis';
import { outputsOf } from './figures';
import { inputsUsed, type Tally } from './inputsUsed';
import type { RigEditorServices } from './services';
import type { Commands } from './settings';

const START: Range = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } };

export class RigLensProvider implements CodeLensProvider {
  constructor(private readonly services: RigEditorServices) {}

  provideCodeLens(document: LangiumDocument): CodeLens[] {
    const { wishes, commands } = this.services.editor.Settings;
    const analysis = this.services.rig.Analyser.of(document);
    const { checked } = analysis;
    if (!checked) return [];
    return [
      ...(wishes.lenses.rig ? aboveRig(analysis, commands) : []),
      ...(wishes.lenses.gear ? aboveGear(analysis, checked) : []),
      ...(wishes.lenses.mixes ? aboveMixes(analysis, checked) : []),
    ];
  }
}

/** What an editor shows and nobody can click. */
function words(title: string): Command {
  return { title, command: '' };
}

function here(analysis: Analysis, place: Place): Range | undefined {
  const spot = analysis.spotOf(place);
  return spot?.uri === analysis.document.uri.toString() ? spot.range : undefined;
}

// ---- the whole -----------------------------------------------------------------------------------

function aboveRig(analysis: Analysis, commands: Commands): CodeLens[] {
  const { document, located, lowered } = analysis;
  const header = document.parseResult.value.statements.find((statement) => statement.$type === 'Header');
  const start = header?.$cstNode?.range.start;
  const range = start ? { start, end: start } : START;
  const uri = document.uri.toString();
  const lenses: CodeLens[] = [];
  if (commands.openSheets && lowered.isRig) {
    lenses.push({ range, command: { title: 'Open the sheets', command: commands.openSheets, arguments: [uri] } });
  }
  const wrong = located.filter(({ finding }) => finding.severity !== 'note').length;
  if (wrong > 0) {
    const title = `${wrong} to put right`;
    lenses.push({ range, command: commands.showProblems ? { title, command: commands.showProblems } : words(title) });
  }
  return lenses;
}

// ---- gear ----------------------------------------------------------------------------------------

function aboveGear(analysis: Analysis, checked: Checked): CodeLens[] {
  return inputsUsed(checked).flatMap(({ piece, analogue, digital }) => {
    const range = here(analysis, piece.place);
    const parts = [...inputWords(analogue, digital), mixWords(checked, piece), phantomWords(checked, piece)];
    return range ? [{ range, command: words(parts.filter(Boolean).join(', ')) }] : [];
  });
}

/** `6 of 8 inputs`, `2 of 8 digital`. */
function inputWords(analogue: Tally, digital: Tally): string[] {
  const used = (tally: Tally) => `${tally.used} of ${tally.of}`;
  return [
    ...(analogue.of > 0 ? [`${used(analogue)} inputs`] : []),
    ...(digital.used > 0 ? [`${used(digital)} digital${analogue.of > 0 ? '' : ' inputs'}`] : []),
  ];
}

/** `2 of 4 stereo mixes`. */
function mixWords({ rig }: Checked, piece: Piece): string {
  const mixer = piece.model.mixes;
  if (!mixer) return '';
  const carried = new Set(rig.outputs.flatMap((run) => (run.from.piece === piece.id ? (run.carries ?? []) : [])));
  const mixes = [...carried].flatMap((id) => rig.mixes.get(id) ?? []);
  const stereo = mixes.filter((mix) => mix.stereo).length;
  return `${mixesNeeded(mixer.width, stereo, mixes.length - stereo)} of ${mixer.count} ${mixer.width} mixes`;
}

/** `phantom 12 of 20 mA`; only for how many where the currents are not known. Nothing where none is needed of it. */
function phantomWords({ supplies }: Checked, piece: Piece): string {
  const fed = supplies.needy.filter(({ supplier }) => supplier?.end.piece.id === piece.id);
  if (fed.length === 0) return '';
  const currents = fed.map((each) => drawOf(each.piece));
  const budget = piece.model.phantomA;
  if (budget === undefined || currents.includes(undefined)) return `phantom for ${fed.length}`;
  const sum = currents.reduce<number>((total, each) => total + (each ?? 0), 0);
  return `phantom ${tidy(sum * 1000, 1)} of ${tidy(budget * 1000, 1)} mA`;
}

function drawOf(piece: Piece): number | undefined {
  return outputsOf(piece.model)
    .flatMap((port) => port.modes)
    .find((mode) => mode.phantom === 'needed')?.drawsA;
}

// ---- mixes ---------------------------------------------------------------------------------------

function aboveMixes(analysis: Analysis, checked: Checked): CodeLens[] {
  const path = new SignalPath(checked.network, checked.levels);
  return [...checked.rig.mixes.values()].flatMap((mix) => {
    const range = here(analysis, mix.place);
    const title = range && hearing(path, mix);
    return title ? [{ range, command: words(title) }] : [];
  });
}

/** `Tina hears it by Tina's pack, Luka by Luka's pack`; `goes to house 14`. */
function hearing(path: SignalPath, mix: Mix): string {
  const heard = new Map<string, ReadonlySet<string>>();
  const lines: string[] = [];
  const seen = new Set<string>();
  const queue: Stop[] = [{ kind: 'mix', id: mix.id }];
  for (const stop of queue) {
    if (seen.has(stopKey(stop))) continue;
    seen.add(stopKey(stop));
    for (const { stop: next } of path.next(stop)) {
      if (next.kind === 'performer') {
        const by = byWords(path, stop);
        const who = path.rig.performers.get(next.id)?.label ?? '';
        heard.set(by, new Set([...(heard.get(by) ?? []), who]));
      } else queue.push(next);
    }
    const end = path.socketOf(stop);
    if (end?.piece.kind === 'house') lines.push(end.piece.label);
  }
  const people = [...heard].map(
    ([by, who], index) => `${list([...who])}${index > 0 ? '' : who.size > 1 ? ' hear it' : ' hears it'} by ${by}`,
  );
  const house = lines.length > 0 ? [`it goes to ${list(lines)}`] : [];
  if (people.length + house.length > 0) return [...people, ...house].join(', ');
  return mix.house ? 'the house does not get it yet' : 'nobody hears it yet';
}

function byWords(path: SignalPath, stop: Stop): string {
  if (stop.kind === 'pack') return path.rig.pieces.get(stop.at)?.label ?? '';
  const socket = path.socketOf(stop);
  if (!socket) return '';
  return socket.piece.for.length > 0 ? socket.piece.label : plugName(socket);
}
