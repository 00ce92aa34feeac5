/** People, program keys and sessions as the wire shows them. Nothing secret is in any answer but the three that say so. */
import { z } from 'zod';
import { id, isoDate, optionalText, reason, requiredText } from '../wire.ts';

export const ROLES = ['keeper', 'technician', 'teacher', 'auditor'] as const;
export type Role = (typeof ROLES)[number];
export const SCOPES = ['compute', 'read', 'record'] as const;
export type Scope = (typeof SCOPES)[number];

export const SHORTEST_PASSPHRASE = 8;
export const LONGEST_PASSPHRASE = 256;

/** Names that stand in the journal for acts that no person did. */
const RESERVED = /^(?:console|system|tarebook|unnamed\b.*|key\b.*|class\b.*)$/iu;

const name = (what: string) =>
  requiredText(what, 80).refine((text) => !RESERVED.test(text), `${what} is one that the journal uses for itself.`);

/** Spaces at the ends and every sign count: it is what was typed. */
const typed = (what: string) =>
  z
    .string({ error: (issue) => (issue.input === undefined ? `${what} is missing.` : `${what} must be text.`) })
    .max(LONGEST_PASSPHRASE, `${what} is longer than ${LONGEST_PASSPHRASE} characters.`);
const passphrase = typed('The passphrase');
const newPassphrase = typed('The new passphrase');
const secondFactor = optionalText('The code of the second factor', 40);
const code = optionalText('The code', 200);
const role = z.enum(ROLES, { error: `The role is one of: ${ROLES.join(', ')}.` });
const mayIssue = z.boolean({ error: 'Say true or false.' });

export const setupState = z.object({
  /** True until a keeper who can sign in exists. */
  needed: z.boolean(),
  shortestPassphrase: z.number().int(),
  longestPassphrase: z.number().int(),
});
export const setupBody = z.strictObject({ code, name: name('The name'), password: passphrase });

/** A name as somebody typed it to sign in; whether there is such a person is not said. */
const typedName = optionalText('The name', 200);
/** With `code`, a one-time code from a keeper, the passphrase is the one chosen now. */
export const sessionBody = z.strictObject({
  name: typedName,
  password: passphrase,
  code: code.optional(),
  secondFactor: secondFactor.optional(),
});
export type SessionBody = z.infer<typeof sessionBody>;

const signedIn = z.object({
  id: z.string(),
  name: z.string(),
  role,
  mayIssue: z.boolean(),
  secondFactor: z.boolean(),
});
export type SignedIn = z.infer<typeof signedIn>;

export const sessionState = z.object({
  person: signedIn.nullable(),
  setupNeeded: z.boolean(),
  /** Pages travel unencrypted beyond this machine. */
  plainHttp: z.boolean(),
  /** When it ends if nothing is done; when it ends in any case. */
  idleEndsAt: z.string().nullable(),
  endsAt: z.string().nullable(),
});
export type SessionState = z.infer<typeof sessionState>;

export const passphraseBody = z.strictObject({ password: passphrase, newPassword: newPassphrase });
export const confirmationBody = z.strictObject({ code });
export const removalBody = z.strictObject({ password: passphrase });
/** The secret is shown this once. */
export const secondFactorBegun = z.object({ secret: z.string(), uri: z.string(), svg: z.string() });
export type SecondFactorBegun = z.infer<typeof secondFactorBegun>;
/** The recovery codes are shown this once. */
export const secondFactorOn = z.object({ recoveryCodes: z.array(z.string()) });

export const personBody = z.strictObject({ name: name('The name'), role, mayIssue: mayIssue.optional() });
export const personChange = z.strictObject({
  role: role.optional(),
  mayIssue: mayIssue.optional(),
  active: z.boolean({ error: 'Say true or false.' }).optional(),
  reason,
});
export const person = z.object({
  id: z.string(),
  version: z.number().int(),
  name: z.string(),
  role,
  mayIssue: z.boolean(),
  active: z.boolean(),
  /** Has a passphrase. */
  canSignIn: z.boolean(),
  /** A one-time code waits to be used until then. */
  codeExpiresAt: z.string().nullable(),
  secondFactor: z.boolean(),
  recordedAt: z.string(),
  recordedBy: z.string(),
});
export type PersonOnWire = z.infer<typeof person>;
export const personList = z.object({ items: z.array(person) });
/** Shown once; only its hash is kept. */
export const oneTimeCode = z.object({ code: z.string(), expiresAt: z.string() });
export type OneTimeCode = z.infer<typeof oneTimeCode>;
export const sessionsEnded = z.object({ ended: z.number().int() });

const scope = z.enum(SCOPES, { error: `The scope is one of: ${SCOPES.join(', ')}.` });
export const keyBody = z.strictObject({
  name: requiredText('The name of the key', 80),
  scope,
  expiresOn: isoDate('The last day').optional(),
});
export const keyRevocation = z.strictObject({ reason });
export const programKey = z.object({
  id: z.string(),
  version: z.number().int(),
  name: z.string(),
  scope,
  expiresOn: z.string().nullable(),
  revoked: z.boolean(),
  hasToken: z.boolean(),
  recordedAt: z.string(),
  recordedBy: z.string(),
});
export type ProgramKeyOnWire = z.infer<typeof programKey>;
export const keyList = z.object({ items: z.array(programKey) });
/** Shown once; only its hash is kept. */
export const keyToken = z.object({ token: z.string() });

export const params = z.object({ id });
