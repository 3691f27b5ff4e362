/** Lets queued work of a session run, where there is no real time. */
export async function settle(): Promise<void> {
  for (let turn = 0; turn < 50; turn += 1) await Promise.resolve();
}
