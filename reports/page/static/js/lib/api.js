/** Calls to the server on this machine. What is wrong is told in the words of the page: nothing is read out of it. */

import { labelled } from "./labels.js";

/**
 * A call that failed: `status` (0 if the server cannot be reached) and `errors`, each with `field`, `message`, and
 * perhaps `hint`, which is about a file and not shown on the page.
 */
export class ApiError extends Error {
  constructor(status, errors, body = {}) {
    super(errors.map((error) => error.message).join("; "));
    this.status = status;
    this.errors = errors;
    this.body = body;
  }

  get isOffline() {
    return this.status === 0;
  }
}

/** Tells `online`, `offline` and `signed-out`. */
export const connection = new EventTarget();
let state = "online";

function connect(next) {
  if (next === state) return;
  state = next;
  connection.dispatchEvent(new Event(next));
}

async function request(method, path, body, type) {
  const headers = method === "GET" ? {} : { "X-Ellwand": "1" };
  if (body !== undefined) headers["Content-Type"] = type;
  try {
    const response = await fetch(path, { method, headers, body, credentials: "same-origin" });
    connect(response.status === 401 ? "signed-out" : "online");
    return response;
  } catch {
    connect("offline");
    throw new ApiError(0, [{ field: "", message: "the program on this machine is not answering" }]);
  }
}

async function answer(response) {
  const text = await response.text();
  let data = null;
  try {
    data = text ? JSON.parse(text) : null;
  } catch { /* said below */ }
  if (response.ok) return data;
  throw new ApiError(response.status, errorsOf(data, response.status), data ?? {});
}

function errorsOf(data, status) {
  if (Array.isArray(data?.errors)) return data.errors.map(({ field, message, hint }) => ({ field, message: labelled(message), hint }));
  return [{ field: "", message: labelled(data?.error ?? `the program answered with ${status}`), hint: data?.hint }];
}

/** Call with JSON in and out. */
export async function call(method, path, data) {
  const body = data === undefined ? undefined : JSON.stringify(data);
  return answer(await request(method, path, body, "application/json"));
}

/** Send a file as it is. */
export async function send(path, file, type = "application/octet-stream") {
  return answer(await request("POST", path, file, type));
}
