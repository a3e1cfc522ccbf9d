/** Whether there are ports, mixes and channels of links for everything that is asked of the gear. */
import type { Network } from '../../solve/network';
import type { Finding } from '../finding';
import { crowding } from './crowding';
import { missingPorts } from './missingPorts';
import { takenTwice } from './takenTwice';
import { tooFewChannels } from './tooFewChannels';
import { tooManyMixes } from './tooManyMixes';
import { withoutLink } from './withoutLink';

export function capacity(net: Network): Finding[] {
  return [...missingPorts(net), ...takenTwice(net), ...crowding(net), ...tooFewChannels(net), ...withoutLink(net), ...tooManyMixes(net)];
}
