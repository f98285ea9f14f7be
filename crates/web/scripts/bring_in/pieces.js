// Sends a file in pieces that go on where they were cut off: the tus 1.0.0 protocol, of which the server side is
// `src/bring_in/upload.rs`. Knows nothing of any page.

import { sha1 } from "./sha1.js";

/** A piece is kept whole or not at all, so on a line that breaks often pieces get smaller. */
const PIECE_BYTES = 4 * 1024 * 1024;
const LEAST_BYTES = 128 * 1024;
/** Waits between tries, s; the last is repeated. Together they outlast a phone that changes its network. */
const WAITS_S = [0.3, 1, 2, 4, 8];
/** Given up after so many tries without a byte more. */
const TRIES = 40;
/** A piece that does not get on for so long is taken for cut off, ms. */
const STUCK_MS = 25_000;
const VERSION = { "Tus-Resumable": "1.0.0" };

/** What the server does not take, in its own words. */
export class Refused extends Error {}

/**
 * @param {Blob} file
 * @param {string} name
 * @param {string} uploads address where uploads begin
 * @param {Record<string, string>} said what is said of the file
 * @param {(sent: number, cut: boolean) => void} report bytes that are there; whether the connection is cut
 * @param {AbortSignal} [signal]
 */
export async function send(file, name, uploads, said, report, signal) {
  const address = await trying(() => begin(file, name, uploads, said, signal), () => report(0, true), signal);
  let at = 0;
  let tries = 0;
  let most = PIECE_BYTES;
  while (at < file.size) {
    try {
      at = await piece(address, file, at, most, (sent) => report(sent, false), signal);
      tries = 0;
      most = Math.min(2 * most, PIECE_BYTES);
      report(at, false);
    } catch (error) {
      if (error instanceof Refused || signal?.aborted) throw error;
      report(at, true);
      most = Math.max(most / 2, LEAST_BYTES);
      if (++tries > TRIES) throw error;
      await wait(tries);
      const before = at;
      at = await trying(() => offset(address, signal), () => report(at, true), signal);
      if (at > before) tries = 0;
    }
  }
}

/** @param {Blob} file @param {string} name @param {string} uploads @param {Record<string, string>} said @param {AbortSignal} [signal] */
async function begin(file, name, uploads, said, signal) {
  const pairs = Object.entries({ ...said, filename: name }).map(([key, text]) => `${key} ${base64(text)}`);
  const answer = await fetch(uploads, {
    method: "POST",
    headers: { ...VERSION, "Upload-Length": String(file.size), "Upload-Metadata": pairs.join(",") },
    signal,
  });
  await check(answer);
  return /** @type {string} */ (answer.headers.get("Location"));
}

/** @param {string} address @param {AbortSignal} [signal] */
async function offset(address, signal) {
  const answer = await fetch(address, { method: "HEAD", headers: VERSION, signal });
  if (answer.status === 404) throw new Refused("The studio does not know this upload any more: choose the clip again.");
  await check(answer);
  return Number(answer.headers.get("Upload-Offset"));
}

/**
 * One piece, by XMLHttpRequest: it alone says how much is on its way.
 * @param {string} address @param {Blob} file @param {number} at @param {number} most bytes
 * @param {(sent: number) => void} report @param {AbortSignal} [signal]
 * @returns {Promise<number>} where the upload goes on
 */
async function piece(address, file, at, most, report, signal) {
  const bytes = new Uint8Array(await file.slice(at, at + most).arrayBuffer());
  const sum = btoa(String.fromCharCode(...sha1(bytes)));
  return new Promise((resolve, reject) => {
    const request = new XMLHttpRequest();
    let last = performance.now();
    const watch = setInterval(() => performance.now() - last > STUCK_MS && request.abort(), 1000);
    const stop = () => request.abort();
    signal?.addEventListener("abort", stop);
    request.onloadend = () => {
      clearInterval(watch);
      signal?.removeEventListener("abort", stop);
      const next = Number(request.getResponseHeader("Upload-Offset"));
      if (request.status === 204) resolve(next);
      else if (refuses(request.status)) reject(new Refused(request.responseText));
      else reject(new Error(`piece ended with ${request.status}`));
    };
    request.upload.onprogress = (event) => {
      last = performance.now();
      report(at + event.loaded);
    };
    request.open("PATCH", address);
    request.setRequestHeader("Tus-Resumable", "1.0.0");
    request.setRequestHeader("Upload-Offset", String(at));
    request.setRequestHeader("Content-Type", "application/offset+octet-stream");
    // Damaged on its way, it is answered with 460 and sent again.
    request.setRequestHeader("Upload-Checksum", `sha1 ${sum}`);
    request.send(bytes);
  });
}

/** Answers that another try does not change. Disk full is one: somebody has to make room. @param {number} status */
function refuses(status) {
  return [400, 403, 404, 410, 412, 413, 415, 507].includes(status);
}

/** @param {Response} answer */
async function check(answer) {
  if (answer.ok) return;
  if (refuses(answer.status)) throw new Refused((await answer.text()) || "The studio does not take this clip.");
  throw new Error(`the studio answered ${answer.status}`);
}

/**
 * @template T @param {() => Promise<T>} what @param {() => void} cut @param {AbortSignal} [signal]
 * @returns {Promise<T>}
 */
async function trying(what, cut, signal) {
  for (let tries = 1; ; tries++) {
    try {
      return await what();
    } catch (error) {
      if (error instanceof Refused || signal?.aborted || tries > TRIES) throw error;
      cut();
      await wait(tries);
    }
  }
}

/** @param {number} tries */
const wait = (tries) =>
  new Promise((go) => setTimeout(go, 1000 * WAITS_S[Math.min(tries, WAITS_S.length) - 1]));

/** @param {string} text */
function base64(text) {
  return btoa(String.fromCharCode(...new TextEncoder().encode(text)));
}
