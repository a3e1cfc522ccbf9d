/** One of the two rigs that are compared. */
import { type Checked, check, type Finding } from '#engine';
import type { Place, Rig } from '#rig';
import { ordered } from './ordered';
import { byText, type Plain, plainOf, stable } from './plain';

export interface Side {
  readonly rig: Rig;
  readonly plain: Plain;
  /** Where each entry stands in the text. */
  readonly places: ReadonlyMap<string, Place>;
  /** Of the rig in an order of its own. */
  readonly checked: Checked;
  /** Those that count, of the rig in that order. */
  readonly findings: readonly Finding[];
}

/** `findings` are those of the file, about its text as well, with those that may stand. */
export function sideOf(rig: Rig, findings: readonly Finding[]): Side {
  const checked = check(ordered(rig));
  return { rig, ...plainOf(rig), checked, findings: counting(findings, checked.findings) };
}

/**
 * Which of two plugs in one socket is the second is a matter of order, and so is which line such a finding is told at: so the engine's are
 * those of the rig in an order of its own. Where a part of the file cannot be read, only of the kinds that the file has, for the others follow from that.
 */
function counting(ofFile: readonly Finding[], ofRig: readonly Finding[]): Finding[] {
  const sign = ({ code, about }: Finding) => stable([code, [...about].sort(byText)]);
  const allowed = new Set(ofFile.filter((each) => each.allowed !== undefined).map(sign));
  const told = ofFile.filter((each) => each.allowed === undefined);
  const ofText = told.filter(({ code }) => isOfText(code));
  const codes = ofText.length > 0 ? new Set<string>(told.map(({ code }) => code)) : undefined;
  return [...ofText, ...ofRig.filter((each) => !allowed.has(sign(each)) && (codes?.has(each.code) ?? true))];
}

/** Found in the text, and not by what is computed from it. */
export function isOfText(code: string): boolean {
  return /^(text|names|units|models|use|rig|allow)\//.test(code);
}
