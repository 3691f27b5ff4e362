/** All cases of a review file in one go, as a test wants them. */
import type { Fault, Result } from '../../src/domain';
import { checkCases, openReviewFile } from '../../src/review';
import type { CaseDigest } from '../../src/review';

export function readReviewFile(text: string): Result<readonly CaseDigest[], Fault> {
  const opened = openReviewFile(text);
  return opened.ok ? checkCases(opened.value.cases) : opened;
}
