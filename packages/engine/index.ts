export * from './about';
export * from './allowing';
export { outAfter, outAt, outOf, suits } from './arriving';
export {
  type Bus,
  type Buses,
  balanceDb,
  type Contribution,
  dbfsOf,
  type Leaving,
  type Loud,
  type MixLevels,
  type Passing,
  panDb,
} from './buses';
export { mixesNeeded } from './capacity/tooManyMixes';
export { type Checked, check } from './check';
export * from './circuit';
export { powerSum } from './decibels';
export { belongs, shortEarphones } from './earphones';
export * from './filters';
export * from './findings';
export { type MetalPath, metalPaths } from './ground';
export { touching } from './house';
export type { Cause, HouseImpact, HouseLine, Parting, Touch } from './impact';
export { buffersS, LATE_S, type Latency, type LatencyPart, SOUND_M_PER_S, VOICE_LATE_S, wedgeM } from './latency';
export { floorLength, type JointLead, listeners, placed, RISE_M, SLACK_FACTOR, SLACK_M, samePlace, stockLength } from './leads';
export { type Arrival, type Gain, gainFor, isUnstated, type Levels } from './levels';
export { earsDbSpl } from './loudInEars';
export { type Matching, match, type Shortage, shortages } from './matching';
export * from './mating';
export { freeHouseNumber } from './mixes';
export * from './naming';
export * from './network';
export * from './path';
export { guaranteedVolts, P48_MOST_A, padLegOhm, phantomVolts } from './phantomVolts';
export { canTake, type Demand, freePortsFor, isHarmed, needsPhantom } from './ports';
export type { Needy, Supplies, Supply, Way as PhantomWay } from './supply';
export { type Code, type FiguresOf, message, PROBLEMS, say } from './words';
export { repluggedOf, type Touching, touchLong, touchShort } from './words/house';
export { latencyParts } from './words/latency';
export * from './words/phrases';
export type { Words } from './words/problem';
