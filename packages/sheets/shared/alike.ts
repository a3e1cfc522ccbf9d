/** Two things of one name are two: `Y-lead`, `2 × Passive DI`, in the order of the first of each. Things are told apart before, by their ids. */
export function alike(labels: readonly string[]): string[] {
  const counts = new Map<string, number>();
  for (const label of labels) counts.set(label, (counts.get(label) ?? 0) + 1);
  return [...counts].map(([label, count]) => (count > 1 ? `${count} × ${label}` : label));
}
