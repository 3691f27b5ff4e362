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

/** Another, for what surrounds the steps: a checklist, a count, a role, another way, sizes that rely on each other. */
export const AROUND_PROCEDURE = {
  format: 1,
  id: 'around-test',
  title: 'Around the steps',
  short: 'Around test',
  note: 'Invented for tests.',
  holdReasons: [{ id: 'imaging', label: 'Imaging', say: 'imaging' }],
  roles: [{ id: 'nurse', title: 'Nurse', countsOnRelief: true }, { id: 'surgeon', title: 'Surgeon' }],
  countItems: [{ id: 'swabs', label: 'Swabs', say: 'swab', usual: 10 }, { id: 'sharps', label: 'Sharps', say: 'sharp', usual: 4 }],
  counts: [{ id: 'first', title: 'First count', kind: 'baseline' }, { id: 'last', title: 'Last count', kind: 'final' }, { id: 'relief', title: 'Relief count', kind: 'relief' }],
  captures: [
    { kind: 'number', id: 'depth', label: 'Depth', row: 'Depth', say: 'depth', unit: 'mm', values: [16, 20, 24] },
    { kind: 'number', id: 'post', label: 'Post', row: 'Post', say: 'post', unit: 'mm', values: [16, 20, 24], reliesOn: ['depth'] },
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
          steps: [
            { id: 'pause', title: 'Stop and check', short: 'Pause', detail: 'All listen.', cue: 'Nothing',
              checklist: [
                { id: 'side', text: 'The side agrees', by: 'surgeon' },
                { id: 'allergy', text: 'Allergies known', by: 'nurse' },
                { id: 'images', text: 'Images on show', by: 'surgeon' },
              ] },
            { id: 'count-first', title: 'Count first', short: 'Count', detail: 'Both count.', cue: 'Trays', count: 'first' },
            { id: 'measure', title: 'Measure the depth', short: 'Depth', detail: 'Read it.', cue: 'Gauge', captures: ['depth'] },
            { id: 'choose', title: 'Choose the post', short: 'Post', detail: 'As deep.', cue: 'Posts', captures: ['post'] },
            { id: 'seat', title: 'Seat it', short: 'Seat', detail: 'All round.', cue: 'Mallet' },
          ],
        },
        {
          id: 'end',
          title: 'End',
          steps: [
            { id: 'count-last', title: 'Count last', short: 'Count', detail: 'Both count.', cue: 'Trays', count: 'last' },
            { id: 'out', title: 'Sign out', short: 'Sign out', detail: 'Before all leave.', cue: 'Nothing' },
          ],
        },
      ],
      alternatives: [
        { id: 'stop', label: 'Stop early', say: 'stop early', why: 'Where going on is not right.', from: 'measure', until: 'seat', joins: 'count-last' },
      ],
    },
  ],
  holdPoints: [
    { id: 'counts', title: 'Sign out', reason: 'Something may be left behind.', guards: { type: 'step', step: 'out' },
      needs: [{ type: 'agrees', count: 'last', missing: 'Last count does not agree', met: 'Last count agrees' }] },
  ],
} as const; // prettier-ignore
