/** The roles that a case is set up with. Roles, not people. */
export const ROLES = [
  { role: 'surgeon', name: 'Surgeon', example: 'surgeon A' },
  { role: 'scrub', name: 'Scrub practitioner', example: 'scrub A' },
  { role: 'circulating', name: 'Circulating nurse', example: 'nurse B' },
] as const;

/** A role as people call it; one that no set-up knows, such as of an imported record, as it is written. */
export function roleToName(role: string): string {
  return ROLES.find((one) => one.role === role)?.name ?? role;
}

/** Longest label that the screens have room for. */
export const MAX_LABEL = 24;
