/** The roles that a case is set up with. Roles, not people. */
export const ROLES = [
  { role: 'surgeon', name: 'Surgeon', example: 'surgeon A' },
  { role: 'scrub', name: 'Scrub practitioner', example: 'scrub A' },
  { role: 'circulating', name: 'Circulating nurse', example: 'nurse B' },
] as const;

/** Longest label that the screens have room for. */
export const MAX_LABEL = 24;
