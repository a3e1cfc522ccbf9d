export { type Checked, check, type Examined, examine, examineEdited } from './check';
export * from './cure/fix';
export { follows, freeHouseNumber } from './cure/free';
export * from './find/about';
export * from './find/allowing';
export { mixesNeeded } from './find/capacity/tooManyMixes';
export * from './find/finding';
export { USUAL_LISTENING_DB_SPL } from './find/hearing';
export { touching } from './find/house';
export type { Related } from './find/related';
export { outAfter, outAt, outOf, suits } from './solve/arriving';
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
  type Side,
} from './solve/buses';
export * from './solve/circuit';
export { type Clock, clocksOf, type Following } from './solve/clock';
export { powerSum } from './solve/decibels';
export { isOneEarpiece, shortEarphones } from './solve/earphones';
export * from './solve/exposure';
export { type Failure, Failures, failuresOf, type Round } from './solve/failure';
export * from './solve/filters';
export * from './solve/follow';
export type { Hearing } from './solve/hearing';
export * from './solve/ids';
export { type Cause, type HouseImpact, type HouseLine, houseLines, type Parting, type Touch } from './solve/impact';
export { buffersS, LATE_S, type Latency, type LatencyPart, SOUND_M_PER_S, VOICE_LATE_S, wedgeM } from './solve/latency';
export { floorLength, type JointLead, listeners, placed, RISE_M, SLACK_FACTOR, SLACK_M, samePlace, stockLength } from './solve/leads';
export { type Arrival, type Gain, gainFor, isUnstated, type Levels } from './solve/levels';
export { channelsAt, type Link, linksOf } from './solve/links';
export { earsDbSpl } from './solve/loudInEars';
export { type Matching, match, type Shortage, shortages } from './solve/matching';
export * from './solve/mating';
export { memoryOf } from './solve/memory';
export { type MetalPath, metalPaths } from './solve/metalPaths';
export { type Costs, costsOf, type Paid, paidIn } from './solve/money';
export * from './solve/naming';
export * from './solve/network';
export { withOpenEars } from './solve/openEars';
export { type Standing, standingOf } from './solve/ownSound';
export * from './solve/path';
export { guaranteedVolts, P48_MOST_A, padLegOhm, phantomVolts } from './solve/phantomVolts';
export { canTake, type Demand, freePortsFor, gives48V, isDigital, isHarmed, needsPhantom } from './solve/ports';
export { type Draw, drawOf, inUse, isComputer, isThing, onBatteries, onMains, receiverApart, runsOn } from './solve/power';
export { choose, type Fixed, spacingHz, type Wanted } from './solve/radio/choose';
export { type Allowance, type Close, type Coordination, coordination, type OnAir, type Trouble } from './solve/radio/coordination';
export { type Choice, type Choosing, chooseAll, chooseOne, chooseSome, type Left } from './solve/radio/frequencies';
export { guardOf, hits, type Order, type Product, productsOf, thirdOrderCount } from './solve/radio/products';
export { isEuropeanUnion, type RadioRange, type RadioRegion, REGIONS, whereOf } from './solve/radio/regions';
export { louderThan, readScan, type Scan, type ScanSlip } from './solve/radio/scan';
export {
  isHopping,
  isOnAir,
  isRadioSet,
  RASTER_HZ,
  type Transmission,
  transmissions,
  USUAL_BANDWIDTH_HZ,
} from './solve/radio/transmissions';
export { type Seat, seatedAt, seatsFor } from './solve/seats';
export { SignalPath, type Step as PathStep, type Stop, stopKey, writtenAt } from './solve/signalPath';
export type { Needy, Supplies, Supply, Way as PhantomWay } from './solve/supply';
export { driverOf, waysOfMix } from './solve/ways';
export { type Step, type Taking, WhatIf } from './whatIf';
export { briefly, type Code, type FiguresOf, message, PROBLEMS, say } from './words';
export { repluggedOf, type Touching, touchLong, touchShort } from './words/house';
export { latencyParts } from './words/latency';
export { exampleText, inLengthUnit, type Lengths, lengthText, lengthUnit } from './words/lengths';
export * from './words/phrases';
export { hoursText } from './words/power';
export { NEEDS_SPLIT, type Problem, type Rest, type Words } from './words/problem';
export { productFormula } from './words/radio';
export { NO_MATE, type Remark, remarkText, weightOf, worstOf } from './words/remarks';
export { SLIPS } from './words/scan';
export * from './words/severity';
export { typeset } from './words/typeset';
