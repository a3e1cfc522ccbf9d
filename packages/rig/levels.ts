/** Volts, dBu and sound pressure. Levels are RMS. */

/** 0 dBu in volts: √0.6, about 0.7746 V, which is 1 mW in 600 ohm (definition; value also printed in IEC 60268-2, from memory). */
export const V_OF_0_DBU = Math.sqrt(0.6);

/** 1 Pa as sound pressure level re 20 µPa: 20 log10(1 / 20e-6), 93.979 dB, quoted as 94. */
export const DB_SPL_OF_1_PA = 20 * Math.log10(1 / 20e-6);

export function dbuOfVolts(volts: number): number {
  return 20 * Math.log10(volts / V_OF_0_DBU);
}

export function voltsOfDbu(dbu: number): number {
  return V_OF_0_DBU * 10 ** (dbu / 20);
}

/** The unloaded output of a microphone, in dBu, for a sound at it in dB SPL. Sensitivity is in V/Pa. */
export function microphoneDbu(sensitivityVPerPa: number, dbSpl: number): number {
  return dbuOfVolts(sensitivityVPerPa) + dbSpl - DB_SPL_OF_1_PA;
}
