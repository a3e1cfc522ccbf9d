/** All commands but the check, which is asked for most and needs the least. Each is made ready when it is asked for. */
export const checkSarif = () => import('./checkSarif');
export const compare = () => import('./compare');
export const format = () => import('./format');
export const frequencies = () => import('./frequencies');
export const importList = () => import('./importList');
export const labels = () => import('./labels');
export const plan = () => import('./plan');
export const sheets = () => import('./sheets');
export const textconv = () => import('./textconv');
