/** What else could go into an input: sources that are plugged in nowhere, tried out there. */
import { type Checked, list, outOf, remarkText, suits, WhatIf, weightOf } from '#engine';
import type { InputRun, Piece, Port } from '#rig';
import { plain } from './markdown';
import { Occupancy } from './occupancy';

const MOST_TRIED = 8;
const MOST_SAID = 4;
/** An adapter is no reason against it. */
const FITS_BELOW = 1;

/** `Overhead and Clarinet would fit here; Kick needs a pad: 6 dB too hot.` Empty for what is not an input of ours. */
export function suitingText(checked: Checked, piece: Piece, port: Port): string {
  const { rig } = checked;
  if (port.direction !== 'input' || piece.kind !== 'gear' || !rig.inputs.some(({ to }) => to.piece === piece.id)) return '';
  const there = rig.inputs.find(({ to }) => to.piece === piece.id && to.ports.includes(port.id));
  const occupancy = new Occupancy(checked);
  const waiting = [...rig.sources.values()].filter((source) => {
    const model = rig.pieces.get(source.id)?.model;
    return model !== undefined && !occupancy.isPatched(source.id) && suits(outOf(model, undefined), port) > 0;
  });
  const whatIf = new WhatIf(rig, there);
  const tried = waiting.slice(0, MOST_TRIED).map((source) => {
    const place = 'input:new';
    const takes = { kind: 'source', id: source.id, place } as const;
    const run: InputRun = { kind: 'input', id: place, to: { piece: piece.id, ports: [port.id], place }, takes, via: [], pad: false, place };
    return { label: plain(source.label), remarks: whatIf.tried(run, []) };
  });
  const fit = tried.filter(({ remarks }) => weightOf(remarks) < FITS_BELOW).slice(0, MOST_SAID);
  const others = tried.filter(({ remarks }) => weightOf(remarks) >= FITS_BELOW).slice(0, MOST_SAID - fit.length);
  const said = [
    fit.length > 0 ? `${list(fit.map(({ label }) => label))} would fit here` : '',
    ...others.map(({ label, remarks }) => `${label}: ${plain(remarkText(remarks))}`),
  ].filter(Boolean);
  return said.length === 0 ? '' : `Not plugged in yet: ${said.join('; ')}.`;
}
