/** The id that the editor knows rigs by. */
export const LANGUAGE = 'rig';
