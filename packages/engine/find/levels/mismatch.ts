/** A signal of one kind on an input made for another. */
import { boxed } from '../../cure/boxes';
import { type Around, Elsewhere, PAD_DB } from '../../cure/elsewhere';
import type { Fix } from '../../cure/fix';
import { moveFix } from '../../cure/move';
import { swappedWith, swaps } from '../../cure/swaps';
import { modeFor } from '../../solve/circuit';
import { type Level, rootOf, type Solved } from '../../solve/levels';
import { carriesSpeakerLevel, isRadio, mustNotBe } from '../../solve/mating';
import { socketName } from '../../solve/naming';
import { findPort, type Joint, type Network, socket, stepOf } from '../../solve/network';
import { wholePath } from '../../solve/path';
import { freePortsFor, gives48V, isNeedy, needsPhantom } from '../../solve/ports';
import { type Finding, finding } from '../finding';
import { madeHere } from '../related';

/** `clipped`: it is cut off before it comes here, and no pad here is any help. */
export function mismatch(around: Around, solved: Solved, joint: Joint, clipped: boolean): Finding[] {
  const { net, levels } = around;
  const { source } = solved;
  const run = joint.runs[0];
  const plug = solved.solutions.findLast(({ plugs }) => plugs.has(joint))?.plugs.get(joint);
  const kinds = plug?.upstream.kinds ?? [];
  if (!run) return [];
  const loud = carriesSpeakerLevel(joint.from.port);
  if (!loud && joint.to.port.modes.some((mode) => kinds.includes(mode.kind))) return [];
  const at = { source: source.label, from: socketName(joint.from), port: socketName(joint.to) };
  const place = run.kind === 'input' ? `${run.id}/port` : `${run.id}/takes`;
  const into = joint.to.port.modes.map((mode) => mode.kind);
  if (mustNotBe(joint)) {
    const instead = otherOutput(joint, net);
    const direct = joint.from.piece === solved.piece && run.kind !== 'output';
    const fixes: Fix[] = direct && instead !== undefined ? [{ kind: 'rewrite', place: `${run.id}/takes`, with: instead }] : [];
    // Whatever else is fed behind it gets the same, and is told so at its own row.
    const lines = net.linesOf(solved.source.id).filter((line) => line.run !== run && wholePath(net, line).includes(joint));
    const fed = lines.map((line) => line.run.id);
    const about = [...new Set([source.id, ...fed])];
    return [finding('levels/speaker-output', place, { ...at, instead }, { about, related: [madeHere(source)], fixes })];
  }
  if (!plug || into.length === 0 || kinds.length === 0 || isRadio(joint.to.port)) return [];
  if (kinds.some((kind) => into.includes(kind))) return [];
  const kind = kinds[0];
  const arrival = levels.at(joint);
  const gain = arrival?.gain;
  const needs = gain &&
    joint.to.port.modes[0]?.gainDb && {
      wantedDb: gain.wantedDb,
      highDb: joint.to.port.modes[0].gainDb.high,
      shortDb: gain.shortDb,
    };
  const line = net.linesThrough(joint).find((each) => each.run === run);
  const movable = run.kind === 'input' && run.to.ports.length === 1;
  const elsewhere = arrival && movable ? new Elsewhere(around, solved, arrival) : undefined;
  const levelOn = (id: string): Level | undefined => {
    const port = findPort(joint.to.piece, id, 'input');
    return port && elsewhere?.at(socket(joint.to.piece, port));
  };
  const free = freePortsFor(net, joint, kinds);
  const wrong = (id: string) => {
    const there = levelOn(id)?.gain;
    return there ? there.shortDb + there.hotDb : 0;
  };
  // Where the gain fits comes first. Only a few are looked at closely: nobody reads a list to its end.
  const best = free.slice(0, 8).sort((a, b) => wrong(a) - wrong(b));
  const fixes: Fix[] = movable ? best.map((port) => moveFix(run, port, levelOn(port))) : [];
  const exchanges = line && line.end?.key === joint.to.key ? swaps(net, line) : [];
  fixes.push(...exchanges);
  const swapped = swappedWith(net, exchanges);
  const wants48V = needsPhantom(joint.from.port) || (solved.piece.kind === 'source' && isNeedy(solved.piece));
  if (kind === 'mic' && (into.includes('line') || into.includes('instrument'))) {
    const step = stepOf(run, joint.to.piece);
    const figures = { ...at, needs, free, swaps: swapped, through: joint.from.piece !== solved.piece, passing: step >= 0 };
    const more = { about: [source.id], related: [madeHere(source)] };
    return [
      finding(
        'levels/mic-on-line',
        place,
        { ...figures, dead: wants48V && !gives48V(joint.to.port) },
        { ...more, fixes: step >= 0 ? [{ kind: 'remove-step', step: `${run.id}/via.${step}` }] : fixes },
      ),
    ];
  }
  if (kind === 'instrument' && into.includes('mic') && !into.includes('line')) {
    const boxes = boxed(net, line, 'last');
    fixes.push(...boxes);
    const box = boxes.flatMap((fix) => (fix.kind === 'add-step' ? fix.model : []))[0];
    return [
      finding(
        'levels/instrument-on-mic',
        place,
        { ...at, free, swaps: swapped, box },
        { about: [source.id], related: [madeHere(source)], fixes },
      ),
    ];
  }
  if (kind === 'instrument' && into.includes('line')) {
    const drive = modeFor(rootOf(plug.upstream).socket, ['instrument']);
    const load = modeFor(joint.to, kinds)?.impedanceOhm;
    if (free.length === 0) fixes.push(...boxed(net, line, 'last'));
    return [
      finding(
        'levels/instrument-on-line',
        place,
        { ...at, loadOhm: load, capacitive: drive?.capacitanceF !== undefined, free, swaps: swapped },
        { about: [source.id], related: [madeHere(source)], fixes },
      ),
    ];
  }
  if (kind === 'line' && into.includes('mic')) {
    const overDb = gain?.hotDb ?? 0;
    const padDb = joint.from.port.tie?.padDb ?? 0;
    // A pad makes of a line what a microphone input can take; the house has pads of its own.
    if (overDb <= 0 && (run.kind === 'house' || padDb > 0)) return [];
    const box = overDb > 0 && overDb <= PAD_DB && !clipped ? 'pad-20' : 'passive-di';
    fixes.push({ kind: 'add-step', run: run.id, model: box, where: 'last' });
    return [
      finding(
        'levels/line-on-mic',
        place,
        { ...at, overDb, box, free, swaps: swapped },
        { about: [source.id], related: [madeHere(source)], fixes },
      ),
    ];
  }
  if (kind === 'phones') {
    const figures = { ...at, from: socketName(rootOf(plug.upstream).socket), takes: into };
    return [finding('levels/phones-on-line', place, figures, { about: [source.id], related: [madeHere(source)] })];
  }
  return [];
}

/** Another output of the same piece that is safe to take, by name. */
function otherOutput(joint: Joint, net: Network): string | undefined {
  const port = joint.from.piece.model.ports.find(
    (candidate) =>
      candidate.direction === 'output' && !carriesSpeakerLevel(candidate) && !net.leaving.has(socket(joint.from.piece, candidate).key),
  );
  return port && `${joint.from.piece.name ?? joint.from.piece.label}.${port.id}`;
}
