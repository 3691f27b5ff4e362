/** A worker that a test plays: it keeps what it is sent and tells what the test wants told. */
export class HandWorker<Sent, Told> {
  onmessage: ((event: MessageEvent<Told>) => void) | null = null;
  onerror: ((event: ErrorEvent) => void) | null = null;
  readonly sent: Sent[] = [];
  isTerminated = false;

  postMessage(message: Sent): void {
    this.sent.push(message);
  }

  terminate(): void {
    this.isTerminated = true;
  }

  tell(data: Told): void {
    this.onmessage?.({ data } as MessageEvent<Told>);
  }
}
