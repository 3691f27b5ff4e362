/** What the screens ask for, answered by the parts of this program. */
import { asId, fault, ok } from '../domain';
import type { CaseId, Clock, Fault, Result, RunId, Scheduler, Stamp } from '../domain';
import { caseToCsv, caseToJson } from '../record';
import type { OpenedRecord, RecordLock } from '../record';
import { caseTimesToCsv } from '../review';
import { caseToFhirText } from './keeping/case-fhir';
import { describeBuiltIn, findLateCues, implantListToCsv, implantListToJson } from '../session';
import type { CaseSettings, RunningCase, SharedHost } from '../session';
import type {
  AppServices, CaseRecord, KeepingServices, LabelServices, ProcedureShelf,
} from '../ui'; // prettier-ignore
import { startCamera } from './labels/camera';
import { addressOf, createCardServices } from './voice/card-services';
import type { CardShelf } from './voice/card-shelf';
import { readHistory } from './keeping/history';
import { collectValues } from './keeping/keeping';
import type { LabelIntake } from './labels/label-intake';
import { createManyCases } from './review/many-cases';
import { saveFile } from './keeping/save-file';
import type { SharedEar } from './voice/shared-ear';
import type { KeptVoiceSettings } from './voice/kept-voice-settings';
import type { Sound } from './voice/sound';
import { createVoiceServices } from './voice/voice-services';
import { listCaseLines, readCaseRecord } from './windows';

export interface ServiceParts {
  readonly clock: Clock;
  readonly scheduler: Scheduler;
  readonly run: RunId;
  readonly startReviewWorker: () => Worker;
  readonly record: OpenedRecord;
  readonly host: SharedHost;
  readonly sound: Sound;
  readonly ear: SharedEar;
  readonly settings: CaseSettings;
  readonly keeping: KeepingServices;
  readonly lock: RecordLock;
  readonly shelf: ProcedureShelf;
  readonly intake: LabelIntake;
  readonly voice: KeptVoiceSettings;
  readonly cards: CardShelf;
}

/** The procedure that the rehearsal speaks. */
const REHEARSED = 'reverse-shoulder-glenoid';

/** Makes the services of this window. */
export function createServices(parts: ServiceParts): AppServices {
  const { clock, run, record, host, sound, settings } = parts;
  const now = (): Stamp => ({ at: clock.wallMs(), mono: clock.monoMs(), run });
  return {
    now,
    get procedures() {
      return parts.shelf.list().filter((line) => line.fault === null);
    },
    shelf: parts.shelf,
    describeProcedure: (id) => parts.shelf.describe(id),
    currentCase: () => host.current,
    onCaseChange: (callback) => host.watch(callback),
    openCase: (setup, sheet) => {
      // Asked where a person has just acted: then a browser is most willing.
      void parts.keeping.askToPersist();
      const { addressPhrase, talkKey } = parts.voice.current;
      // A case keeps what one says first as it was opened, in every window and at every replay.
      const [card] = setup.voiceCards ?? [];
      const said = talkKey === null ? addressPhrase : '';
      const address = card ? addressOf(card.language, said) : ok(said);
      if (!address.ok) return Promise.resolve(address);
      return host.open({ ...setup, addressPhrase: address.value }, sheet);
    },
    leaveCase: () => {
      host.leave();
      return Promise.resolve();
    },
    listCases: (latest) => listCaseLines(record.store, latest),
    readCase: async (caseId) =>
      (await isLocked(parts)) ?? readCaseRecord(record.store, settings, caseId),
    manyCases: createManyCases(
      parts.startReviewWorker,
      async () => (await isLocked(parts)) !== null,
      () => parts.lock.share(),
    ),
    readHistory: (running) => readHistory(record.store, running),
    exportCase: async (caseId, kind) =>
      (await isLocked(parts)) ?? exportCase(parts, caseId, kind, now()),
    keeping: parts.keeping,
    labels: createLabels(parts),
    voice: createVoiceServices(parts.voice, sound),
    cards: createCardServices({
      shelf: parts.cards,
      settings: parts.voice,
      procedures: parts.shelf,
      clock,
      scheduler: parts.scheduler,
      siteBase: document.baseURI,
      newId: () => crypto.randomUUID(),
      stopEar: () => {
        parts.ear.stop();
      },
      isLocked: async () => (await isLocked(parts)) !== null,
    }),
    isWriter: () => host.isWriter,
    storageFault: () => record.fault ?? host.problem,
    earStatus: () => parts.ear.status,
    onEarChange: (callback) => parts.ear.onStatus(callback),
    startListening: () => sound.listen(),
    stopListening: () => {
      parts.ear.stop();
      return Promise.resolve();
    },
    rehearsalStatus: () => sound.rehearsal,
    onRehearsalChange: (callback) => sound.onRehearsal(callback),
    startRehearsal: () => startRehearsal(host, sound),
    stopRehearsal: () => {
      sound.stopRehearsal();
      return Promise.resolve();
    },
  };
}

/** Labels from the desk: typed, from the camera, and the list of them as a file. */
function createLabels(parts: ServiceParts): LabelServices {
  const { intake, host } = parts;
  return {
    take: (text, isAnother) => intake.take(text, 'desk', isAnother),
    learn: (product, article) => intake.learn(product, article),
    wedge: () => intake.wedge,
    setWedge: (wedge) => intake.setWedge(wedge),
    watchCamera: (video, { onFault, onReader }) =>
      startCamera(video, {
        onText: (text) => {
          void intake.take(text, 'desk');
        },
        onFault,
        onReader,
      }),
    saveList: async (kind) => {
      const locked = await isLocked(parts);
      if (locked) return locked.error;
      const view = host.current?.view;
      if (!view) return fault('case-unknown', { name: '' });
      const name = `${view.mode === 'real' ? '' : `${view.mode}-`}${view.caseId}-implants`;
      if (kind === 'csv') saveFile(`${name}.csv`, 'text/csv', implantListToCsv(view));
      else saveFile(`${name}.json`, 'application/json', implantListToJson(view));
      return null;
    },
  };
}

/** While the record is locked nothing is looked back on or saved, the running case included. */
async function isLocked({ keeping }: ServiceParts): Promise<{ ok: false; error: Fault } | null> {
  const state = await keeping.lockState();
  return state === 'locked' ? { ok: false, error: fault('record-locked') } : null;
}

/** Opens a rehearsal case and lets it be spoken; resolves when it has begun. */
async function startRehearsal(host: SharedHost, sound: Sound): Promise<Result<void, Fault>> {
  const running = host.current;
  if (running?.view.mode === 'rehearsal' && running.view.status !== 'closed') {
    sound.stopRehearsal();
    await running.submit({ type: 'case.close', outcome: 'abandoned' }, 'desk');
  }
  const card = describeBuiltIn(REHEARSED);
  if (!card.ok) return card;
  const opened = await host.open({
    procedureId: asId(card.value.id),
    procedure: card.value.data,
    mode: 'rehearsal',
    side: 'right',
    roles: [
      { role: 'surgeon', label: 'surgeon A' },
      { role: 'scrub', label: 'scrub A' },
      { role: 'circulating', label: 'nurse A' },
    ],
    plan: { wedge: 16, direction: 630, depth: 24, sphere: 40 },
  });
  if (opened.ok) void sound.rehearse();
  return opened;
}

/** Saves a case as a file; what is only in memory is saved as well. */
async function exportCase(
  { record, host, settings }: ServiceParts,
  caseId: CaseId,
  kind: Parameters<AppServices['exportCase']>[1],
  now: Stamp,
): Promise<Result<void, Fault>> {
  const running = host.current;
  const read =
    running?.view.caseId === caseId
      ? await readRunning(running)
      : await readCaseRecord(record.store, settings, caseId);
  if (!read.ok) return read;
  const { entries, outline } = read.value;
  const [first] = entries;
  if (first?.type !== 'case.opened')
    return { ok: false, error: fault('case-unknown', { name: caseId }) };
  // A file that is not a real case says so in its name.
  const name = first.data.mode === 'real' ? caseId : `${first.data.mode}-${caseId}`;
  if (kind === 'json') {
    const values = await collectValues({ store: record.store, host }, caseId);
    if (!values.ok) return values;
    saveFile(`${name}.json`, 'application/json', caseToJson(values.value));
  } else if (kind === 'entries-csv')
    saveFile(`${name}-entries.csv`, 'text/csv', caseToCsv(entries));
  else if (kind === 'fhir') {
    const text = caseToFhirText(entries, outline);
    if (text === null) return { ok: false, error: fault('case-unknown', { name: caseId }) };
    saveFile(`${name}-fhir.json`, 'application/fhir+json', text);
  } else {
    // A case that runs lasts until now; one that was left lasts until its last entry.
    const end = running?.view.caseId === caseId ? now : (entries.at(-1) ?? now);
    saveFile(
      `${name}-times.csv`,
      'text/csv',
      caseTimesToCsv(entries, outline, end, findLateCues(entries, end)),
    );
  }
  return ok(undefined);
}

async function readRunning(
  running: RunningCase,
): Promise<Result<Pick<CaseRecord, 'entries' | 'outline'>, Fault>> {
  const whole = await running.untilWhole();
  return whole.ok ? ok({ entries: running.entries, outline: running.view.outline }) : whole;
}
