/** Who may call a route. Each route declares it; the server does not start with a route that does not. */
import { ROLES, type Role, type Scope } from './contract.ts';

/** `program`: a key for programs of any scope; other routes ask for the scope that fits the roles. */
export type Caller = Role | 'program';
/** `open`: without sign-in, now and later. A list: these callers once people exist. */
export type Access = 'open' | readonly Caller[];

export const EVERYONE: Access = ROLES;
/** Registers vessels and instruments, weighs, corrects. */
export const BENCH: Access = ['keeper', 'technician'];
export const KEEPER: Access = ['keeper'];
/** Reads what was recorded, done and issued. */
export const RECORDS: Access = ['keeper', 'technician', 'auditor'];
/** Reads who works here; changes nothing. */
export const OVERSIGHT: Access = ['keeper', 'auditor'];
/** Computes, for programs too; nothing is stored. */
export const COMPUTING: Access = [...ROLES, 'program'];

/** Stands in the journal for every act made before the logbook knew people. */
export const UNNAMED_ACTOR = 'unnamed (before sign-in)';
/** Acts of a command run on the machine itself. */
export const CONSOLE_ACTOR = 'console';

/** Who is signed in. */
export interface Person {
  id: string;
  name: string;
  role: Role;
  mayIssue: boolean;
}

/** A key for a program. */
export interface Program {
  id: string;
  name: string;
  scope: Scope;
}

declare module 'fastify' {
  interface FastifyContextConfig {
    access?: Access;
    /** Also needs the permission to issue certificates. Keys for programs never have it. */
    mayIssue?: true;
    /** An act of a person: neither a key for programs nor anybody before people exist. */
    personOnly?: true;
    /** Creates, but takes no Idempotency-Key: its answer must not be kept. */
    keyless?: true;
    /** Also answers at the listener for classes. */
    classListener?: true;
  }
  interface FastifyRequest {
    actor: string;
    /** Null before sign-in, for keys and for commands. */
    person: Person | null;
  }
}
