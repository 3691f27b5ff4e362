/** Set-up: roles, files, links. */
import { describe, expect, test } from 'vitest';
import { asId } from '../../src/domain';
import { caseLineToLink } from '../../src/ui/start/case-line';
import { pathToWords, termToWords } from '../../src/ui/start/finding-words';
import { parseProcedureText } from '../../src/ui/start/procedure-file';
import { warnAboutLabel, warnAboutText } from '../../src/ui/parts/person-signs';

describe('role labels', () => {
  test.each(['', 'surgeon A', 'Surgeon B', 'scrub 2', 'Senior trainee', 'nurse', 'Team 12', 'X'])(
    '[DSK15] %j passes as a role',
    (label) => {
      expect(warnAboutLabel(label)).toBeNull();
    },
  );

  test.each(['Dr A', 'mrs b', 'Anneke', 'surgeon Özdem', 'Ng, Lee', 'bleep 4471', '020 33 44'])(
    '[DSK15] %j is questioned',
    (label) => {
      expect(warnAboutLabel(label)).not.toBeNull();
    },
  );
});

describe('reasons and notes', () => {
  test.each([
    '', 'Tray was not complete', 'Screw 3 of 5 too short, taken out', 'Surgeon asked for it', 'X-ray at 14:30',
    'size 24 instead of 16', 'Dropped. Second set opened', 'CT showed more wear', 'wedge turned by 10 degrees',
  ])('[DSK45] %j passes', (text) => {
    expect(warnAboutText(text)).toBeNull();
  }); // prettier-ignore

  test.each([
    ['asked for by Mr Ng', 'name'], ['Anneke Visser wanted it', 'name'], ['as Özdemir said', 'name'], ['for dr B', 'name'],
    ['born 1950', 'birth'], ['pt 4/11/1952', 'birth'], ['4 Nov 52', 'birth'], ['1952-11-04', 'birth'], ['DOB unknown', 'birth'],
    // NHS numbers are ten digits, usually set 3 3 4 (NHS Data Model and Dictionary, from memory); this one is for testing.
    ['999 000 0018', 'number'], ['hosp no K1234567', 'number'], ['12-34-56', 'birth'], ['case 482911', 'number'],
  ])('[DSK45] %j is questioned: %s', (text, why) => {
    expect(warnAboutText(text)).toContain(why);
  }); // prettier-ignore
});

describe('a procedure file of one’s own', () => {
  test('[DSK16] text that is not JSON is refused with the line at which it breaks', () => {
    const parsed = parseProcedureText('{\n "format": 1,\n oops\n}');
    expect(parsed).toMatchObject({
      ok: false,
      error: {
        code: 'procedure-invalid',
        params: { path: '(file)', expected: 'JSON', received: 'text that breaks at line 3' },
      },
    });
  });

  test('[DSK16] a byte order mark is no fault, a huge file is', () => {
    expect(parseProcedureText('\uFEFF{}')).toEqual({ ok: true, value: {} });
    expect(parseProcedureText(' '.repeat(1_000_001)).ok).toBe(false);
  });
});

describe('findings', () => {
  test.each([
    ['tracks.0.phases.2.title', 'track 1, phase 3, title'],
    ['holdPoints.1.needs.0.capture', 'hold point 2, need 1, capture'],
    ['(file)', '(file)'],
    ['id', 'id'],
  ])('[DSK16] the place %s is told as %j', (path, words) => {
    expect(pathToWords(path)).toBe(words);
  });

  test.each([
    ['string', 'text'],
    ['undefined', 'nothing'],
    ['>=1', 'at least 1'],
    ['("mm" | "deg" | "none")', 'one of "mm", "deg", "none"'],
    ['/^[a-z]+$/', 'text of another form, such as “post-hole”'],
    ['a step of this track', 'a step of this track'],
  ])('[DSK16] the term %s is told as %j', (term, words) => {
    expect(termToWords(term)).toBe(words);
  });
});

describe('the list of cases', () => {
  const id = asId<Parameters<typeof caseLineToLink>[0]['caseId']>('case-1 a');

  test('[DSK17] the running case goes on at the desk, every other is looked back on', () => {
    expect(caseLineToLink({ caseId: id, isClosed: false }, id).href).toBe('#/desk');
    expect(caseLineToLink({ caseId: id, isClosed: false }, null).href).toBe('#/review/case-1%20a');
    expect(caseLineToLink({ caseId: id, isClosed: true }, id).href).toBe('#/review/case-1%20a');
  });
});
