/** Whether there are ports, mixes and channels of links for everything that is asked of the gear. */
import { crowding } from './capacity/crowding';
import { missingPorts } from './capacity/missingPorts';
import { takenTwice } from './capacity/takenTwice';
import { tooFewChannels } from './capacity/tooFewChannels';
import { tooManyMixes } from './capacity/tooManyMixes';
import { withoutLink } from './capacity/withoutLink';
import type { Finding } from './findings';
import type { Network } from './network';

export function capacity(net: Network): Finding[] {
  return [...missingPorts(net), ...takenTwice(net), ...crowding(net), ...tooFewChannels(net), ...withoutLink(net), ...tooManyMixes(net)];
}
