/** How bad a finding is. */

/** `danger` can hurt somebody or something; an `error` fails on the night; a `warning` may; a `note` is worth knowing. */
export type Severity = (typeof SEVERITIES)[number];

/** The gravest first. */
export const SEVERITIES = ['danger', 'error', 'warning', 'note'] as const;
