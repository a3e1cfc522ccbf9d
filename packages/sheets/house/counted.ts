/** Things counted and listed, short enough for a page that somebody reads in a minute. */
import { list } from '#engine';
import { alike } from '../shared/alike';

const MOST = 8;

/** `1 to 4, 7 and 12`, each once; what is no number stands by itself. */
export function lineNumbers(numbers: readonly string[]): string {
  const groups: string[][] = [];
  for (const number of new Set(numbers)) {
    const group = groups.at(-1);
    if (group && /^\d+$/.test(number) && Number(number) === Number(group.at(-1)) + 1) group.push(number);
    else groups.push([number]);
  }
  return list(groups.flatMap((group) => (group.length > 2 ? [`${group[0]} to ${group.at(-1)}`] : group)));
}

/** `Y-lead, 2 × Passive DI`, in the order of the first of each; a long list ends in how many more there are. */
export function counted(labels: readonly string[]): string {
  return short(alike(labels));
}

export function short(items: readonly string[], joiner = ', '): string {
  const shown = items.length > MOST ? [...items.slice(0, MOST - 1), `${items.length - MOST + 1} more`] : items;
  return shown.join(joiner);
}
