/** What blocks that many sheets have are called. */

/** Findings that no row stands for. */
export const ELSEWHERE = 'Also found';
export const CAUTIONS = 'Take care';
/** In front of a set. */
export const CONTENTS = 'Contents';
