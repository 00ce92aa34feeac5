/** One-time codes of an app (RFC 6238: SHA-1, six digits, 30 s), and the recovery codes for the day the app is lost. */
import { hashOfCode, newCode, sameHash } from './codes.ts';
import type { Secrets } from './store.ts';

const STEP_S = 30;
const RECOVERY_CODES = 10;

const totp = async (secret: string, name: string) => {
  const { Secret, TOTP } = await import('otpauth');
  return new TOTP({
    issuer: 'Tarebook',
    label: name,
    algorithm: 'SHA1',
    digits: 6,
    period: STEP_S,
    secret: Secret.fromBase32(secret),
  });
};

export const newSecret = async (): Promise<string> => {
  const { Secret } = await import('otpauth');
  return new Secret({ size: 20 }).base32;
};

/** What an app reads, as text and as a square code. */
export const pictured = async (secret: string, name: string): Promise<{ uri: string; svg: string }> => {
  const uri = (await totp(secret, name)).toString();
  const { toSVG } = await import('bwip-js/node');
  return { uri, svg: toSVG({ bcid: 'qrcode', text: uri, scale: 4, padding: 4, backgroundcolor: 'FFFFFF' }) };
};

/** @returns the step a code belongs to, one before or after the present one allowed; null when it fits none */
export const stepOf = async (secret: string, code: string, at: Date): Promise<number | null> => {
  const token = code.replaceAll(/\s/g, '');
  if (!/^\d{6}$/.test(token)) return null;
  const timestamp = at.getTime();
  const delta = (await totp(secret, '')).validate({ token, window: 1, timestamp });
  return delta === null ? null : Math.floor(timestamp / 1000 / STEP_S) + delta;
};

export const newRecoveryCodes = (): { codes: string[]; hashes: string } => {
  const codes = Array.from({ length: RECOVERY_CODES }, newCode);
  return { codes, hashes: JSON.stringify(codes.map(hashOfCode)) };
};

/** What changes when a code is used, so that it is not used twice. */
export type Used = Pick<Secrets, 'second_factor_last_step'> | Pick<Secrets, 'recovery_hashes'>;

/** @returns null when the code fits neither a step not yet used nor a recovery code that is left */
export const useCode = async (secrets: Secrets, code: string, at: Date): Promise<Used | null> => {
  if (secrets.second_factor_secret === null) return null;
  const step = await stepOf(secrets.second_factor_secret, code, at);
  if (step !== null) {
    const last = secrets.second_factor_last_step;
    return last !== null && step <= last ? null : { second_factor_last_step: step };
  }
  const left = JSON.parse(secrets.recovery_hashes ?? '[]') as string[];
  const hash = hashOfCode(code);
  if (!left.some((one) => sameHash(one, hash))) return null;
  return { recovery_hashes: JSON.stringify(left.filter((one) => one !== hash)) };
};
