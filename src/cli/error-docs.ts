/** docs/errors.md as the error catalogue gives it. */
import { listErrors } from '../domain';

/** The whole page, as Markdown. */
export function makeErrorDocs(): string {
  const rows = listErrors().map(
    ({ code, happened, next, developer }) =>
      `| \`${code}\` | ${toCell(happened)} | ${toCell(next)} | ${toCell(developer)} |`,
  );
  return [
    '# Errors',
    '',
    'Made from src/domain/errors.ts by `npm run make-error-docs`; a test keeps the two equal.',
    'Each error has two lines for the person in front of the screen (what happened; what to do',
    'now, and what is safe) and one for a developer. `{name}` is filled in.',
    '',
    '| code | what happened | what to do now | for developers |',
    '|---|---|---|---|',
    ...rows,
    '',
  ].join('\n');
}

function toCell(text: string): string {
  return text.replaceAll('|', '\\|');
}
