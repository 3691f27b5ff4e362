/**
 * SQLite's own WebAssembly build with its pool of files in the origin private file system,
 * for bench record: one row an entry, one transaction a row, synced before it is answered.
 */
import sqlite3InitModule from '@sqlite.org/sqlite-wasm';
import type { Database } from '@sqlite.org/sqlite-wasm';

/** What the worker is asked. */
export type SqliteRequest =
  | { readonly kind: 'open'; readonly synchronous: 'FULL' | 'NORMAL' | 'OFF' }
  | {
      readonly kind: 'append';
      readonly caseId: string;
      readonly seq: number;
      readonly text: string;
    };
/** It answers with its version, an empty text, or why it could not. */
export type SqliteReply =
  { readonly ok: true; readonly text: string } | { readonly ok: false; readonly why: string };

let database: Database | null = null;

async function open(synchronous: string): Promise<string> {
  const sqlite3 = await sqlite3InitModule();
  const pool = await sqlite3.installOpfsSAHPoolVfs({
    name: `bench-${synchronous}`,
    directory: `/bench-${synchronous}`,
  });
  database = new pool.OpfsSAHPoolDb('/record.sqlite');
  database.exec(`PRAGMA journal_mode=TRUNCATE; PRAGMA synchronous=${synchronous};
    CREATE TABLE IF NOT EXISTS entries (case_id TEXT, seq INTEGER, entry TEXT, PRIMARY KEY (case_id, seq)) WITHOUT ROWID;`);
  return sqlite3.version.libVersion;
}

addEventListener('message', ({ data }: MessageEvent<SqliteRequest>) => {
  answer(data).then(
    (text) => postMessage({ ok: true, text } satisfies SqliteReply),
    (reason: unknown) => postMessage({ ok: false, why: String(reason) } satisfies SqliteReply),
  );
});

async function answer(request: SqliteRequest): Promise<string> {
  if (request.kind === 'open') return open(request.synchronous);
  const { caseId, seq, text } = request;
  database?.exec({ sql: 'INSERT INTO entries VALUES (?, ?, ?)', bind: [caseId, seq, text] });
  return '';
}
