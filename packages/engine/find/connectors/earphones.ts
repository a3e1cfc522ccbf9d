/** Whether what a performer wears in their ears reaches the socket it is plugged into. */
import { shortEarphones } from '../../solve/earphones';
import { type JointLead, RISE_M } from '../../solve/leads';
import { socketName } from '../../solve/naming';
import type { Network } from '../../solve/network';
import { BESIDE } from '../../words/beside';
import { type Finding, finding } from '../finding';

export function earphonesReach(net: Network, joined: readonly JointLead[]): Finding[] {
  return shortEarphones(net, joined).map(({ performer, run, socket, model, tailM, assumed, wayM, extensionM }) =>
    finding(
      'connectors/earphones-too-short',
      run.via.length > 0 ? `${run.id}/via.${run.via.length - 1}` : `${run.id}/port`,
      {
        performer: performer.label,
        earphones: model?.label ?? 'earphones',
        socket: socketName(socket),
        tailM,
        assumed,
        wayM,
        riseM: RISE_M,
        extensionM,
      },
      {
        about: [performer.id],
        related: [{ place: performer.place, says: BESIDE.whereIs(performer.label) }],
        fixes: [{ kind: 'add-step', run: run.id, model: 'earphone-extension', where: 'last' }],
      },
    ),
  );
}
