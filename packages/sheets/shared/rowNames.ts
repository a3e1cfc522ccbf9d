/** What a row is called away from its table. */
import type { HouseRow, InputRow, LeadRow, OutputRow } from './model';

export const inputName = ({ port, source }: Pick<InputRow, 'port' | 'source'>) => `${port}: ${source}`;
export const outputName = ({ port, mix }: Pick<OutputRow, 'port' | 'mix'>) => `${port}: ${mix}`;
export const houseName = ({ number }: Pick<HouseRow, 'number'>) => `house ${number}`;
export const leadName = ({ from, to }: Pick<LeadRow, 'from' | 'to'>) => `${from} to ${to}`;
