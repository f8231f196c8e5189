// Recordings wait here, on the phone's own disk, until the program says that they are in the job.
import { Refusal, jobPath, post, postFile, postPiece } from "./api.js";

const PAUSE_MS = 1500;
const watchers = new Set();
let database;
let running = false;

export const onChange = (watcher) => watchers.add(watcher);
const tell = (what) => watchers.forEach((watcher) => watcher(what));

const asked = (request) => new Promise((done, failed) => {
  request.onsuccess = () => done(request.result);
  request.onerror = () => failed(request.error);
});

async function open() {
  if (database) return database;
  const request = indexedDB.open("hissward", 2);
  request.onupgradeneeded = ({ oldVersion }) => {
    if (oldVersion < 1) {
      request.result.createObjectStore("clips", { keyPath: "token" });
      request.result.createObjectStore("pieces", { keyPath: ["token", "sequence"] });
    }
    request.result.createObjectStore("readings", { keyPath: "number", autoIncrement: true });
  };
  database = await asked(request);
  return database;
}

const store = async (name, mode = "readwrite") => (await open()).transaction(name, mode).objectStore(name);
const all = async (name) => asked((await store(name, "readonly")).getAll());

export const waiting = async () => (await all("clips")).length + (await all("readings")).length;
const count = async () => tell({ waiting: await waiting() });

const hex = (bytes) => [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
export const newToken = () => hex(crypto.getRandomValues(new Uint8Array(16)));

// A reading is sent at once; where nobody answers it waits here like a recording. True where it waits.
export async function putReading(path, reading) {
  try {
    if ((await all("readings")).length > 0) throw new TypeError("those before it wait");
    await post(path, reading);
    return false;
  } catch (error) {
    if (error instanceof Refusal) throw error;
    await asked((await store("readings")).put({ path, reading }));
    tell({ online: false });
    await count();
    kick();
    return true;
  }
}

export const addFile = (path, file) => postFile(path, file);

// Waits until nothing of what was recorded is on the way, or the network is gone.
export async function settled() {
  for (let tries = 0; tries < 100 && (await waiting()) > 0; tries += 1) await pause(100);
}

async function sendReadings() {
  for (const { number, path, reading } of await all("readings")) {
    try {
      await post(path, reading);
      tell({ read: true });
    } catch (error) {
      // What the program will never take must not hold up the rest: it is told, and gone.
      if (!(error instanceof Refusal) || error.status === 429 || error.status >= 500 || error.status === 401) throw error;
      tell({ trouble: error.message });
    }
    await asked((await store("readings")).delete(number));
  }
}

export async function put(clip) { await asked((await store("clips")).put(clip)); kick(); }

export async function putPiece(token, sequence, samples) {
  const hash = hex(new Uint8Array(await crypto.subtle.digest("SHA-256", samples)));
  await asked((await store("pieces")).put({ token, sequence, samples, hash }));
  kick();
}

export async function close(token, ending) {
  const clip = await asked((await store("clips")).get(token));
  await asked((await store("clips")).put({ ...clip, ending }));
  kick();
}

async function forget(token) {
  await asked((await store("clips")).delete(token));
  await asked((await store("pieces")).delete(IDBKeyRange.bound([token, 0], [token, Infinity])));
}

const pause = (ms) => new Promise((done) => setTimeout(done, ms));

// A page that was closed in the middle of a recording left a clip without an end: it ends where its pieces do.
export async function recover() {
  for (const clip of await all("clips")) {
    if (clip.ending) continue;
    const pieces = await asked((await store("pieces", "readonly")).count(IDBKeyRange.bound([clip.token, 0], [clip.token, Infinity])));
    if (pieces === 0) await forget(clip.token);
    else await close(clip.token, { pieces, cut_short: true, gaps: 1 });
  }
  const left = await waiting();
  if (left > 0) tell({ kept: left });
  kick();
}

async function send(clip) {
  const path = `${jobPath(clip.job)}/uploads`;
  let { next, committed } = await post(path, { ...clip.about, token: clip.token });
  while (!committed) {
    const piece = await asked((await store("pieces", "readonly")).get([clip.token, next]));
    if (!piece) break;
    ({ next } = await postPiece(`${path}/${clip.token}/${next}`, piece.samples, piece.hash));
    tell({ sent: clip.token, next });
  }
  const now = await asked((await store("clips", "readonly")).get(clip.token));
  if (!committed && !now?.ending) return false;
  if (!committed && next < now.ending.pieces) return true;
  const done = await post(`${path}/${clip.token}/finish`, now?.ending ?? { pieces: next });
  await forget(clip.token);
  tell({ done: done.clip, verdict: done.verdict });
  return true;
}

export async function kick() {
  if (running) return;
  running = true;
  try {
    for (;;) {
      const clips = await all("clips");
      const readings = (await all("readings")).length;
      await count();
      if (clips.length + readings === 0) break;
      try {
        await sendReadings();
        if (readings > 0) tell({ online: true });
      } catch (error) {
        if (!(error instanceof Refusal)) tell({ online: false });
        await pause(PAUSE_MS);
      }
      let open = 0;
      for (const clip of clips) {
        try {
          if (!(await send(clip))) open += 1;
          tell({ online: true });
        } catch (error) {
          if (!(await mend(clip, error))) await pause(PAUSE_MS);
        }
      }
      if (clips.length > 0 && open === clips.length) await pause(120);
    }
  } finally {
    running = false;
  }
}

// True where trying again at once makes sense.
async function mend(clip, error) {
  if (!(error instanceof Refusal)) { tell({ online: false }); return false; }
  if (error.code === "unknown-upload") {
    // The program lost sight of it; the phone has it all, so it begins again under a new name.
    const token = newToken();
    const pieces = (await all("pieces")).filter((piece) => piece.token === clip.token);
    for (const piece of pieces) await asked((await store("pieces")).put({ ...piece, token }));
    await asked((await store("clips")).put({ ...clip, token }));
    await forget(clip.token);
    tell({ renamed: clip.token, token });
    return true;
  }
  if (error.code === "unfit" && !(await asked((await store("pieces", "readonly")).get([clip.token, 0])))) {
    // Nothing was recorded, so nothing is lost.
    await forget(clip.token);
    return true;
  }
  tell({ trouble: error.message, code: error.code });
  return error.code === "out-of-order" || error.code === "damaged" ? (await pause(200), true) : false;
}
