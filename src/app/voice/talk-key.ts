/** The talk key of this window: pressed in any window, it opens the ear in the one that listens. */
import type { VoiceSettings } from '../../domain';

type Message = 'press' | 'release';

/** Joins the key to a window; returns the function that lets go. */
export function attachTalkKey(
  host: Window,
  channel: Pick<BroadcastChannel, 'postMessage' | 'addEventListener'>,
  settings: () => VoiceSettings,
  onKey: { press(): void; release(): void },
): () => void {
  const tell = (message: Message): void => {
    onKey[message]();
    channel.postMessage(message);
  };
  const take = (message: Message) => (event: KeyboardEvent) => {
    if (event.key !== settings().talkKey) return;
    event.preventDefault();
    if (!event.repeat) tell(message);
  };
  const [down, up] = [take('press'), take('release')];
  // Out of this window the key's end is not seen.
  const leave = (): void => {
    tell('release');
  };
  channel.addEventListener('message', ({ data }: MessageEvent<Message>) => {
    onKey[data]();
  });
  host.addEventListener('keydown', down, { capture: true });
  host.addEventListener('keyup', up, { capture: true });
  host.addEventListener('blur', leave);
  return () => {
    host.removeEventListener('keydown', down, { capture: true });
    host.removeEventListener('keyup', up, { capture: true });
    host.removeEventListener('blur', leave);
  };
}
