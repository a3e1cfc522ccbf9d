export { AFTER_A_LOSS, AIMS, type AimName } from './aims';
export type { Assembled, NewGear, PlannedInput, PlannedOutput, PlannedPack } from './assemble';
export type { Conflict, Must } from './conflict';
export { type Change, changesOf, portText, rank, viaText } from './fixes';
export { type Asking, type Formulated, formulate } from './formulate';
export type { Step } from './frontier';
export { lexicographic } from './lexicographic';
export { type LineChoice, uses } from './lines';
export type { Hearing, ToHouse, Transmission } from './listening';
export { isHearable, type Plan, type PlanOptions, type Prepared, type Progress, plan, prepare } from './plan';
export { type Aim, keepsTo, Programme, type Row, type Term, worth } from './programme';
export type { Purchase } from './purchases';
export type { LeftOut, Reason } from './reasons';
export type { Seeking, Solved, Solver } from './solver';
export { idleUnits, type Offer } from './stock';
export {
  blocksText,
  changeText,
  conflictText,
  leftOutText,
  moneyText,
  purchaseText,
  reasonText,
  runText,
  stepText,
  summaryText,
  takesText,
  unreadText,
} from './words';
