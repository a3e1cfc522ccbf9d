/** Leads that make earphones' own longer: from a phones socket that is further away than they reach, to their plug. */
import { isRadio, leadBetween, plugName, SLACK_FACTOR, SLACK_M, shortEarphones, socket } from '#engine';
import { CONNECTORS, type Model, type Performer, type Piece, type Port } from '#rig';
import type { Context } from './context';
import { about, type Draft, distinct } from './draft';
import { earsOf, extensionKind } from './extensionLead';
import { leadLength, stock } from './figures';
import type { LeadDraft } from './leads';
import type { LeadRow } from './model';

/** What earphones are plugged with where the rig does not say: common practice, no source. */
const USUAL_PLUG: Port = {
  id: 'in',
  direction: 'input',
  connector: 'mini-trs',
  modes: [{ kind: 'phones', channels: 2, balanced: false, floating: false }],
  separate: false,
  bank: 0,
  place: 'rig',
};

/** Those that no line of the rig has, one for each listener whom a socket is too far from. */
export function extensionRows({ checked }: Context): LeadDraft[] {
  const { rig, network, leads } = checked;
  const drafts = shortEarphones(network, leads).flatMap(
    ({ performer, mix, run, socket: from, model, tailM, wayM, extensionM }): LeadDraft[] => {
      const to = socket(earphonesPiece(performer, model), plugOf(model));
      const lead = leadBetween(from.port, to.port, 'phones');
      if (!lead) return [];
      const ends = [CONNECTORS[lead.ends[0].connector].label, `${CONNECTORS[lead.ends[1].connector].label} socket`] as const;
      const row: Draft<LeadRow> = {
        key: `${from.key}>ears ${performer.name}`,
        place: run.place,
        about: about(run.place, performer.place),
        unfinished: false,
        carries: mix.label,
        from: plugName(from),
        fromEnd: ends[0],
        to: to.piece.label,
        toEnd: ends[1],
        wiring: 'stereo',
        kind: 'stereo, extension',
        length: leadLength(extensionM, rig.settings),
      };
      const { count, eachM } = stock(extensionM, rig.settings);
      const joint = { from, to, runs: [run], clashes: false };
      const needsM = wayM * SLACK_FACTOR + SLACK_M - tailM;
      return [
        {
          joint,
          reckoned: { joint, lead: { ...lead, adapting: false }, kind: 'phones', needsM, lengthM: extensionM, toAt: performer.at },
          theirs: false,
          lengthens: true,
          signals: [mix.label],
          row,
          pack: [{ count, kind: extensionKind(ends[0], ends[1]), adapting: false, lengthM: eachM }],
        },
      ];
    },
  );
  const rows = distinct<LeadRow>(drafts.map((each) => each.row));
  return drafts.map((each, index) => ({ ...each, row: rows[index] ?? each.row }));
}

function plugOf(model: Model | undefined): Port {
  return model?.ports.find((port) => port.direction === 'input' && port.connector !== undefined && !isRadio(port)) ?? USUAL_PLUG;
}

/** A thing of no statement of its own, at the ears of a performer. */
function earphonesPiece(performer: Performer, model: Model | undefined): Piece {
  const usual: Model = {
    id: 'earphones',
    label: 'Earphones',
    lineage: ['earphones'],
    ports: [USUAL_PLUG],
    sideSelect: false,
    monoSwitch: false,
    origins: [],
    place: 'rig',
  };
  return {
    id: `ears of ${performer.id}`,
    kind: 'fresh',
    label: earsOf(performer),
    model: model ?? usual,
    at: performer.at,
    for: [performer.id],
    place: performer.place,
  };
}
