/** Words that the sentences of all charts share. */

export function tooFew(count: number, least: number): string {
  return `Nothing can be said yet: ${cases(count)} so far, ${least} are needed.`;
}

export function minutes(value: number): string {
  return `${value < 10 ? value.toFixed(1) : value.toFixed(0)} min`;
}

export function cases(count: number): string {
  return `${count} ${count === 1 ? 'case' : 'cases'}`;
}
