/** Every refusal has one name, and it stands here once. Pages import this list; the server throws by it. */
export const PROBLEMS = {
  'unreadable-request': {
    status: 400,
    title: 'The request could not be read',
    meaning:
      'The body is not JSON, a header is malformed, or the address cannot be decoded. Send the request again as described in the API document.',
  },
  'idempotency-key-missing': {
    status: 400,
    title: 'An Idempotency-Key header is needed',
    meaning:
      'Every request that creates something carries a key of its own, so that sending it twice cannot record it twice. Send up to 200 letters, digits and signs of ASCII without a space, best a random id.',
  },
  'not-signed-in': {
    status: 401,
    title: 'Sign in first',
    meaning:
      'This needs somebody who is signed in, or a program with a key that is still good. What you typed is kept.',
  },
  'sign-in-refused': {
    status: 401,
    title: 'That did not open the logbook',
    meaning:
      'The name, the passphrase or the code is not right. Which of them is not said. A keeper can make a new one-time code.',
  },
  'second-factor-needed': {
    status: 401,
    title: 'The code of the second factor is needed',
    meaning: 'This person signs in with a second factor. Send its present code, or one of the recovery codes.',
  },
  'passphrase-needed': {
    status: 401,
    title: 'Type your passphrase to sign',
    meaning: 'Signing asks for the passphrase again, so that nobody signs at a screen somebody left open.',
  },
  'not-allowed': {
    status: 403,
    title: 'This is not among the things you may do',
    meaning: 'Your role, or the scope of the key, does not include this. A keeper can change what a person may do.',
  },
  'wrong-passphrase': {
    status: 403,
    title: 'That is not your passphrase',
    meaning: 'The passphrase typed to confirm is not the one of the person who is signed in.',
  },
  'wrong-code': {
    status: 403,
    title: 'That code is not good',
    meaning:
      'The code is mistyped, used or too old. The set-up code is printed at each start of the server and lasts a day.',
  },
  'cross-site': {
    status: 403,
    title: 'Another site asked for this',
    meaning: 'Pages of other sites may not change anything here. Open Tarebook itself and try again.',
  },
  'not-found': {
    status: 404,
    title: 'There is no such thing here',
    meaning: 'The address or the id in it is unknown to this logbook.',
  },
  'state-conflict': {
    status: 409,
    title: 'The record is past that step',
    meaning:
      'Trials, corrections and exclusions belong to an open calibration or experiment; other acts need the state they are made for.',
  },
  duplicate: {
    status: 409,
    title: 'That mark is already taken',
    meaning: 'Tags are the laboratory’s own marks and must tell vessels and instruments apart, also from earlier tags.',
  },
  'set-up-done': {
    status: 409,
    title: 'The first keeper is there already',
    meaning: 'Set-up is closed once a keeper can sign in. A keeper adds further people in Settings.',
  },
  'other-counts': {
    status: 409,
    title: 'There is more, or less, than was said',
    meaning:
      'Erasing names how many groups, predictions and trials go. Those numbers are no longer the present ones: look again.',
  },
  'last-keeper': {
    status: 409,
    title: 'Nobody would be left to keep the logbook',
    meaning: 'The last keeper who can sign in stays keeper. Make another keeper first, and let them sign in once.',
  },
  'too-many-trials': {
    status: 409,
    title: 'No more trials fit in here',
    meaning: 'A calibration holds at most 1000 trials, a group of a class 60 in each row. Start another one.',
  },
  'too-many-groups': {
    status: 409,
    title: 'This class has as many groups as it can',
    meaning: 'An experiment has at most 60 groups, one for each name of the list.',
  },
  'second-person': {
    status: 409,
    title: 'Another person has to check this',
    meaning:
      'This laboratory demands a second person: whoever recorded trials of a calibration cannot check it. Ask a colleague.',
  },
  'stale-edit': {
    status: 412,
    title: 'Somebody changed this record meanwhile',
    meaning:
      'The version sent in If-Match is not the present one. The present record is in the answer; compare and decide.',
  },
  'too-large': {
    status: 413,
    title: 'That is more than is taken at once',
    meaning: 'A request body holds at most 1 MB.',
  },
  'wrong-media-type': { status: 415, title: 'Send JSON', meaning: 'Bodies are application/json in UTF-8.' },
  'wrong-host': {
    status: 421,
    title: 'This server does not go by that name',
    meaning:
      'Tarebook answers to the names and addresses of its machine and to those that a keeper entered in Settings. Open it by one of them.',
  },
  'validation-failed': {
    status: 422,
    title: 'Some fields need another look',
    meaning: 'One or more fields cannot be taken as they are. Each is named with what is wrong and what to do.',
  },
  'please-confirm': {
    status: 422,
    title: 'Is this really meant?',
    meaning: 'A value is possible but unusual. Send it again with its name in "confirm" and a note, or correct it.',
  },
  'key-reused': {
    status: 422,
    title: 'This key belongs to another request',
    meaning: 'The same Idempotency-Key came before with a different body. A new act needs a new key.',
  },
  'outside-validity': {
    status: 422,
    title: 'Outside the range of the formula',
    meaning: 'A formula is only used where its source says it holds.',
  },
  'version-missing': {
    status: 428,
    title: 'Say which version you are changing',
    meaning:
      'Editing a record needs its version in the If-Match header, so that nobody overwrites another’s change unseen.',
  },
  'too-many-requests': {
    status: 429,
    title: 'Too many tries; wait a little',
    meaning: 'After several wrong tries the next ones have to wait, longer each time, up to five minutes.',
  },
  'too-many-boards': {
    status: 429,
    title: 'Enough boards are open',
    meaning: 'An experiment has as many live boards as it can hold. Close one, or ask for the board now and then.',
  },
  internal: {
    status: 500,
    title: 'Something went wrong inside Tarebook',
    meaning: 'The request was not carried out. The server’s log has the details under the request’s id.',
  },
  'storage-full': {
    status: 507,
    title: 'The disk is full',
    meaning: 'Nothing was recorded. Make room on the disk and save again; what you typed is still on the page.',
  },
} as const satisfies Record<string, { status: number; title: string; meaning: string }>;

export type ProblemCode = keyof typeof PROBLEMS;
