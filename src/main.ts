/**
 * Joins the program to the browser: its clocks, storage, windows and sound are built
 * here and in src/app, nowhere else. Everything else receives them as ports.
 */
import { BackupFolderKeeper } from './app/keeping/backup-folder';
import { collectValues, createKeeping, isCaseOpen } from './app/keeping/keeping';
import { createProcedureShelf } from './app/procedures/procedures';
import { CardShelf } from './app/voice/card-shelf';
import { createKeptFiles } from './app/keeping/kept-files';
import { createShelf } from './app/procedures/procedure-shelf';
import { LabelIntake } from './app/labels/label-intake';
import { prepareReviewWorker } from './app/review/review-worker';
import { attachScanner } from './app/labels/scanner';
import { KeptVoiceSettings } from './app/voice/kept-voice-settings';
import { fillScreenOnDoublePress } from './app/full-screen';
import { keepScreenAwake } from './app/screen';
import { createServices } from './app/services';
import { SharedEar } from './app/voice/shared-ear';
import { Sound } from './app/voice/sound';
import { attachTalkKey } from './app/voice/talk-key';
import { VoiceTurn } from './app/voice/voice-turn';
import { backUpClosedCases } from './app/keeping/back-up-closed';
import { joinWindows } from './app/windows';
import { asId, fault, faultToDeveloperText, faultToOperatorText } from './domain';
import type { Clock, Fault, RunId, Scheduler } from './domain';
import {
  caseToJson, createBucketPlace, createLock, createSettings, createSnapshotStore, openRecord,
} from './record'; // prettier-ignore
import type { CaseSettings } from './session';
import type { StorageBuckets } from './record';
import { createOffline } from './offline';
import { mountApp } from './ui';
import { DEFAULT_ADDRESS_PHRASE } from './voice';

/** After how long does an unconfirmed read-back lapse? Long enough to look up and answer. */
const LAPSE_MS = 12_000;
/** Which build this is: its file's name holds a hash of what is in it. */
const BUILD = import.meta.url;
/** The screens on which a scan is meant for the case. */
const SCAN_SCREENS = /^#\/?(desk|wall|implants)/;
/** The lock whose holder speaks. */
const VOICE_LOCK = 'cuewall-voice';

const clock: Clock = { wallMs: () => Date.now(), monoMs: () => performance.now() };
const scheduler: Scheduler = {
  after: (delayMs, callback) => {
    const timer = setTimeout(callback, delayMs);
    return () => {
      clearTimeout(timer);
    };
  },
};
const run = asId<RunId>(crypto.randomUUID());
const settings: CaseSettings = { addressPhrase: DEFAULT_ADDRESS_PHRASE, lapseMs: LAPSE_MS };

async function start(): Promise<void> {
  const target = document.querySelector<HTMLElement>('#app');
  if (!target) throw new Error('The page has no #app');
  const startReviewWorker = prepareReviewWorker(location.hash);
  const kept = createSettings(globalThis.indexedDB);
  const lock = createLock(kept, clock);
  const { storageBuckets } = navigator as { readonly storageBuckets?: StorageBuckets };
  const copyPlace = createBucketPlace(storageBuckets);
  const record = await openRecord(globalThis.indexedDB, lock, copyPlace, (done, total) => {
    showLine(target, 'status', `Putting older cases in the list: ${done} of ${total}`);
  });
  // The screens come last; a fault before that waits for them.
  const early: Fault[] = [];
  let notify: (fault: Fault) => void = (why) => void early.push(why);
  const { onDisk, store } = record;
  const snapshots = onDisk ? createSnapshotStore(onDisk.guard, BUILD) : undefined;
  const host = await joinWindows({
    store, clock, scheduler, run, settings, snapshots,
    report: (why) => {
      notify(why);
    },
  }); // prettier-ignore
  const folder = new BackupFolderKeeper(kept, clock);
  const offline = createOffline(navigator.serviceWorker, '/service-worker.js');
  const keeping = createKeeping({
    store, host, settings, clock, folder, lock, offline, onDisk: record.onDisk,
    storage: navigator.storage,
  }); // prettier-ignore
  backUpClosedCases(host, async (caseId) => {
    const values = await collectValues({ store, host }, caseId);
    if (values.ok) await folder.save(`${caseId}.json`, caseToJson(values.value));
  });
  keepScreenAwake(host, navigator.wakeLock, document);
  fillScreenOnDoublePress(document, () => location.hash.startsWith('#/wall'));
  if (!isCaseOpen(host)) {
    // Nothing of this is owed to a running case: it waits for a start without one.
    void snapshots?.clear();
    await record.onDisk?.putAwayKeys();
    void record.onDisk?.copy?.catchUp();
    void offline.prepare();
  }
  const shelf = createProcedureShelf(
    createShelf(createKeptFiles('cuewall-procedures'), () => clock.wallMs()),
    { clock, scheduler, run, settings },
    document.baseURI,
    () =>
      new Worker(new URL('./app/procedures/procedure-check.worker.ts', import.meta.url), {
        type: 'module',
      }),
  );
  void shelf.reload();
  const turn = new VoiceTurn(navigator.locks, VOICE_LOCK, () => {
    sound.stopListening();
  });
  const voice = new KeptVoiceSettings(kept, new BroadcastChannel('cuewall-voice-settings'));
  const unreadVoice = await voice.load();
  if (unreadVoice) notify(unreadVoice);
  const cards = new CardShelf(
    createKeptFiles('cuewall-voice-cards'),
    (id) =>
      isCaseOpen(host) && (host.current?.view.everCards ?? []).some(({ card }) => card === id),
  );
  const sound: Sound = new Sound(
    host, document.baseURI, scheduler, turn, voice, cards, clock,
    (fault) => {
      console.warn(faultToDeveloperText(fault));
      notify(fault);
    },
  ); // prettier-ignore
  const talkChannel = new BroadcastChannel('cuewall-talk');
  attachTalkKey(window, talkChannel, () => voice.current, sound.talkKey);
  const ear = new SharedEar(sound, new BroadcastChannel('cuewall-ear'), clock);
  window.addEventListener('pagehide', () => {
    ear.leave();
  });
  const intake = new LabelIntake(host, kept);
  for (const unread of await intake.load()) notify(unread);
  attachScanner(
    window,
    scheduler,
    () => SCAN_SCREENS.test(location.hash) && isCaseOpen(host),
    (text) => void intake.take(text, 'scanner'),
  );
  const screens = mountApp(
    target,
    createServices({
      startReviewWorker,
      clock,
      scheduler,
      run,
      record,
      host,
      sound,
      ear,
      settings,
      keeping,
      lock,
      shelf,
      intake,
      voice,
      cards,
    }),
  );
  notify = (fault) => {
    screens.notify(fault);
  };
  early.forEach(notify);
}

/** The one place where nothing else can show a fault: a line instead of a blank page. */
function showStartFailure(cause: unknown): void {
  const why = fault('start-failed', { detail: String(cause) });
  console.error(faultToDeveloperText(why));
  const { happened, next } = faultToOperatorText(why);
  showLine(document.querySelector('#app'), 'alert', `${happened}. ${next}`);
}

/** A line alone on the page, before there are screens. */
function showLine(target: Element | null, role: 'alert' | 'status', text: string): void {
  const line = document.createElement('p');
  line.setAttribute('role', role);
  line.textContent = text;
  target?.replaceChildren(line);
}

start().catch(showStartFailure);
