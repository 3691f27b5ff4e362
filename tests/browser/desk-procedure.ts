/** A short procedure for browser tests: a size, a hold point, a choice, a back table. */
export const SHORT_PROCEDURE = {
  format: 1,
  id: 'short-test',
  title: 'Short test procedure',
  short: 'Short test',
  note: 'Invented for tests.',
  holdReasons: [{ id: 'imaging', label: 'Imaging', say: 'imaging' }],
  captures: [
    { kind: 'number', id: 'depth', label: 'Depth', row: 'Depth', say: 'depth', unit: 'mm', values: [16, 20, 24] },
    { kind: 'report', id: 'pin-out', label: 'Pin out', say: 'pin out', reads: 'Pin out and counted' },
  ],
  tracks: [
    {
      id: 'field',
      title: 'Field',
      doneSay: 'step done',
      backSay: 'go back',
      phases: [
        {
          id: 'work',
          title: 'Work',
          usualMin: 2,
          steps: [
            { id: 'expose', title: 'Expose', short: 'Expose', detail: 'See it.', cue: 'Retractors' },
            { id: 'measure', title: 'Measure the depth', short: 'Depth', detail: 'Read it.', cue: 'Gauge', captures: ['depth'] },
            { id: 'insert', title: 'Insert the baseplate', short: 'Insert', detail: 'At the mark.', cue: 'Baseplate', begins: 'said', say: 'insert baseplate' },
            { id: 'end', title: 'Look again', short: 'Look', detail: 'All round.', cue: 'Light' },
          ],
        },
      ],
    },
    {
      id: 'table',
      title: 'Back table',
      doneSay: 'table done',
      backSay: 'table back',
      phases: [
        {
          id: 'build',
          title: 'Build',
          steps: [{ id: 'pull', title: 'Take the pin out', short: 'Pin', detail: 'Count it.', cue: 'Pin', captures: ['pin-out'] }],
        },
      ],
    },
  ],
  holdPoints: [
    {
      id: 'baseplate',
      title: 'Baseplate',
      reason: 'A pin left behind is in the way.',
      guards: { type: 'step', step: 'insert' },
      needs: [
        { type: 'confirmed', capture: 'depth', missing: 'Depth not confirmed', met: 'Depth confirmed' },
        { type: 'confirmed', capture: 'pin-out', missing: 'Pin not reported out', met: 'Pin out' },
      ],
    },
  ],
} as const; // prettier-ignore
