/** By wire into the wrong ears: a mix that goes into what is somebody else's, and two mixes in one pair of ears that do not share them. */
import type { Mix, OutputRun, Performer, Piece } from '#rig';
import type { Fix } from '../../cure/fix';
import { freeAmplifiers } from '../../cure/free';
import { socketName } from '../../solve/naming';
import { type Network, push, type Socket, stepOf } from '../../solve/network';
import { driverOf, ownedBy, type Way } from '../../solve/ways';
import { BESIDE } from '../../words/beside';
import { type Finding, finding } from '../finding';

export function wired(net: Network, all: readonly Way[]): Finding[] {
  const ways = all.filter(({ how, mix }) => how === 'phones' && !mix.house && mix.for.length > 0);
  const crowded = crowdedDrivers(net, ways);
  const alone = ways.filter((way) => !crowded.some(({ driver }) => driver === driverOf(net, way.end)));
  return [...crowded.map((each) => twoMixes(net, each)), ...somebodyElses(net, alone)];
}

// ---- two mixes for one pair of ears ----------------------------------------------------------------

interface Crowded {
  readonly driver: Socket;
  readonly first: Sided;
  readonly second: Sided;
}

/** A way with the input of the driver's gear that it comes in by. */
interface Sided {
  readonly way: Way;
  readonly into: Socket;
}

/** Amplifiers that play a mix on one side and another on the other, with nobody who is to hear both. */
function crowdedDrivers(net: Network, ways: readonly Way[]): Crowded[] {
  const byDriver = new Map<Socket, Sided[]>();
  for (const way of ways) {
    const driver = driverOf(net, way.end);
    const into = way.line.joints.find(({ to }) => driver?.port.tie?.how === 'active' && driver.port.tie.inputs.includes(to.port.id));
    if (driver && into?.to.piece === driver.piece) push(byDriver, driver, { way, into: into.to });
  }
  return [...byDriver].flatMap(([driver, sides]) => {
    const [first] = sides;
    // Two plugs in one input are told there.
    const second = sides.find(({ way, into }) => first && way.mix !== first.way.mix && into !== first.into);
    const twice = sides.some((one) => sides.some((other) => one.into === other.into && one.way.mix !== other.way.mix));
    if (!first || !second || twice || first.way.mix.for.some((id) => second.way.mix.for.includes(id))) return [];
    return [{ driver, first, second }];
  });
}

function twoMixes(net: Network, { driver, first, second }: Crowded): Finding {
  const { mix, line } = second.way;
  const step = stepOf(line.run, driver.piece);
  const free = freeAmplifiers(net, driver.piece)[0];
  return finding(
    'mixes/cannot-pick-side',
    `${line.run.id}/via.${step}`,
    { pack: socketName(driver), transmitter: undefined, side: second.into.port.id, mixes: [first.way.mix.label, mix.label], free },
    {
      about: [first.way.mix.id, mix.id, driver.piece.id],
      related: [{ place: first.way.line.run.place, says: BESIDE.isOn(first.way.mix.label, first.into.port.id) }],
      fixes: [{ kind: 'replace-step', step: `${line.run.id}/via.${step}`, with: free ?? 'headphone-amp' }],
    },
  );
}

// ---- somebody else's -------------------------------------------------------------------------------

function somebodyElses(net: Network, ways: readonly Way[]): Finding[] {
  const told = new Set<string>();
  return ways.flatMap((way) => {
    const { mix, line, end } = way;
    const piece = ownedBy(net, end);
    if (!piece || piece.for.some((id) => mix.for.includes(id)) || line.run.kind !== 'output') return [];
    const { run } = line;
    return peopleOf(net, piece.for).flatMap((performer) => {
      const key = `${mix.id} ${piece.id} ${performer.id}`;
      if (told.has(key)) return [];
      told.add(key);
      const step = stepOf(run, piece);
      const people = peopleOf(net, mix.for).map(({ label }) => label);
      return [
        finding(
          'mixes/wrong-side',
          step >= 0 ? `${run.id}/via.${step}` : `${run.id}/carries`,
          { pack: piece.label, performer: performer.label, hears: mix.label, side: undefined, own: undefined, people },
          {
            about: [performer.id, mix.id, piece.id],
            related: [{ place: piece.place, says: BESIDE.isFor(piece.label, performer.label) }],
            fixes: [...exchanged(net, ways, run, mix, piece), { kind: 'add-listener', mix: mix.id, performer: performer.name }],
          },
        ),
      ];
    });
  });
}

/** Each into their own, where the mix of whose it is has gone the other way. */
function exchanged(net: Network, ways: readonly Way[], run: OutputRun, mix: Mix, piece: Piece): Fix[] {
  const back = ways.find(({ mix: other, end }) => {
    const owned = ownedBy(net, end);
    return owned?.for.some((id) => mix.for.includes(id)) && other.for.some((id) => piece.for.includes(id));
  });
  const theirs = back && ownedBy(net, back.end);
  if (!back || !theirs || back.line.run.kind !== 'output') return [];
  const written = (of: OutputRun, there: Piece) => {
    const index = stepOf(of, there);
    const port = of.via[index]?.port;
    return { step: `${of.id}/via.${index}`, text: `${there.name}${port === undefined ? '' : `.${port}`}`, index };
  };
  const [here, there] = [written(run, piece), written(back.line.run, theirs)];
  if (here.index < 0 || there.index < 0) return [];
  return [
    {
      kind: 'several',
      fixes: [
        { kind: 'replace-step', step: here.step, with: there.text },
        { kind: 'replace-step', step: there.step, with: here.text },
      ],
    },
  ];
}

function peopleOf({ rig }: Network, ids: readonly string[]): Performer[] {
  return [...new Set(ids)].flatMap((id) => rig.performers.get(id) ?? []);
}
