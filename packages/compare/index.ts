/** What changes on the floor between two rigs: moves that make one of the other, what follows from them, and all of it in words. */
export { type Compared, type Comparison, compare, type Input, isSame } from './compare';
export type { FindingChanges } from './findings';
export type { TouchChange } from './house';
export type { ComparedLead, LeadChange } from './leads';
export type { Moves } from './moves';
export { applied, type Move, mirrored, type Renamed } from './moves';
export { type Entry, type Fields, type Kind, type Plain, plainOf, stable } from './plain';
export type { SettingChange } from './set';
export type { Side } from './side';
export type { LeadCount, ThingChange } from './things';
export { type ChangeLine, changeLines, GROUPS, type Group } from './words';
