/**
 * `earloom check --format sarif` is held to the schema of the standard (tests/reference/sarif/SOURCE.md says where it is from), and its fixes are made
 * and looked at. The schema is of draft 4 of JSON Schema, in ajv's edition for that.
 */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import Ajv from 'ajv-draft-04';
import addFormats from 'ajv-formats';
import type { Log, Region } from 'sarif';
import { afterAll, describe, expect, it } from 'vitest';
import { root } from '../build';
import { earloom } from '../cli/earloom';

const ajv = new Ajv({ strict: false, allErrors: true });
addFormats(ajv);
const isSarif = ajv.compile(JSON.parse(readFileSync(path.join(import.meta.dirname, 'sarif/sarif-schema-2.1.0.json'), 'utf8')));

const folder = mkdtempSync(path.join(tmpdir(), 'earloom-sarif-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function checked(words: readonly string[], cwd: string): { log: Log; status: number | null } {
  const { stdout, status } = earloom(['check', ...words, '--format', 'sarif'], { cwd });
  return { log: JSON.parse(stdout) as Log, status };
}

const CLUB = `rig "Copper Wren"
performer ana "Ana"
source voice "Größte Stimme" is dynamic-mic by ana
source reed "Reed" is condenser-mic by ana
gear iface "Interface" is interface-8-mic
input iface.1 takes voice
input iface.1 takes reed
mix ana mono for ana { voice 0 dB reed -3 dB }
output iface.phones1 carries ana
`;

describe('SARIF', () => {
  it('is as the schema of the standard has it, for every kind of finding that has a page', { timeout: 120_000 }, () => {
    const { log, status } = checked(['mistakes'], path.join(root, 'examples'));
    expect(status).toBe(1);
    isSarif(log);
    expect(isSarif.errors ?? []).toEqual([]);
    const { tool, results = [] } = log.runs[0] ?? { tool: { driver: { name: '' } } };
    const rules = tool.driver.rules ?? [];
    expect(results.length).toBeGreaterThan(150);
    for (const { ruleId, ruleIndex = -1 } of results) expect(rules[ruleIndex]?.id).toBe(ruleId);
    for (const rule of rules) expect(rule.help?.markdown, rule.id).toContain('## The mistake');
  });

  it('has cures that do away with what they are for', () => {
    writeFileSync(path.join(folder, 'größte probe.rig'), CLUB);
    const before = checked(['größte probe.rig'], folder);
    const results = before.log.runs[0]?.results ?? [];
    expect(results[0]?.locations?.[0]?.physicalLocation?.artifactLocation?.uri).toBe('gr%C3%B6%C3%9Fte%20probe.rig');
    const wrong = results.find(({ ruleId }) => ruleId === 'capacity/input-taken-twice');
    const [change] = wrong?.fixes?.[0]?.artifactChanges ?? [];
    expect(change?.replacements).not.toHaveLength(0);
    const lines = CLUB.split('\n');
    const offset = (line = 1, column = 1) => lines.slice(0, line - 1).reduce((sum, each) => sum + each.length + 1, 0) + column - 1;
    const edits = (change?.replacements ?? []).map(({ deletedRegion, insertedContent }) => {
      const { startLine, startColumn, endLine, endColumn } = deletedRegion as Region;
      return { start: offset(startLine, startColumn), end: offset(endLine, endColumn), text: insertedContent?.text ?? '' };
    });
    const mended = edits
      .sort((a, b) => b.start - a.start)
      .reduce((text, { start, end, text: put }) => text.slice(0, start) + put + text.slice(end), CLUB);
    writeFileSync(path.join(folder, 'größte probe.rig'), mended);
    const codes = (log: Log) => (log.runs[0]?.results ?? []).map(({ ruleId }) => ruleId);
    expect(codes(checked(['größte probe.rig'], folder).log)).not.toContain('capacity/input-taken-twice');
  });

  it('says what could not be read, and what may stand', () => {
    writeFileSync(path.join(folder, 'blob.rig'), Buffer.from([0x52, 0, 1]));
    writeFileSync(
      path.join(folder, 'stands.rig'),
      CLUB.replace('takes reed\n', 'takes reed # allow capacity/input-taken-twice: changed between songs\n'),
    );
    const { log, status } = checked(['blob.rig', 'stands.rig'], folder);
    expect(status).toBe(2);
    isSarif(log);
    expect(isSarif.errors ?? []).toEqual([]);
    expect(log.runs[0]?.invocations?.[0]).toMatchObject({ executionSuccessful: false, toolExecutionNotifications: [{ level: 'error' }] });
    const suppressed = log.runs[0]?.results?.filter(({ suppressions }) => suppressions);
    expect(suppressed?.map(({ suppressions }) => suppressions?.[0])).toEqual([
      { kind: 'inSource', justification: 'changed between songs' },
    ]);
  });
});
