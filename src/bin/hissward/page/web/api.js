// Requests to the program. A refusal carries a code to act on and a sentence to show.
import { language } from "./words.js";

export class Refusal extends Error {
  constructor(told, status) {
    super(told.text || String(status));
    Object.assign(this, told, { status });
  }
}

async function answered(response) {
  const told = await response.json().catch(() => ({}));
  if (!response.ok) throw new Refusal(told, response.status);
  return told;
}

const spoken = (path) => `/api/${path}${path.includes("?") ? "&" : "?"}in=${language()}`;

export const get = async (path) => answered(await fetch(spoken(path)));

export async function post(path, body = {}) {
  const headers = { "Content-Type": "application/json" };
  return answered(await fetch(spoken(path), { method: "POST", headers, body: JSON.stringify(body) }));
}

export async function postPiece(path, bytes, sha256) {
  const headers = { "Content-Type": "application/octet-stream", "X-Sha256": sha256 };
  return answered(await fetch(`/api/${path}`, { method: "POST", headers, body: bytes }));
}

export async function postFile(path, file) {
  const headers = { "Content-Type": "application/octet-stream" };
  return answered(await fetch(spoken(path), { method: "POST", headers, body: file }));
}

export const drop = async (path) => answered(await fetch(`/api/${path}`, { method: "DELETE" }));

export const jobPath = (job) => `jobs/${encodeURIComponent(job)}`;
