import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { Logbook } from '../db/logbook.ts';
import { atomicWeight } from '../metrology/solutions/atomic-weights.ts';
import { molarMass } from '../metrology/solutions/substance.ts';
import { COMPUTING } from '../people/access.ts';
import { invalid } from '../problem.ts';
import { formulaQuery, formulaReply, solutionBody, solutionResult } from './contract.ts';
import { readFormula } from './formula.ts';
import { choosingRoutes } from './routes-choosing.ts';
import { Gathering } from './gathering.ts';
import { preparationPaperRoutes } from './routes-papers.ts';
import { recordRoutes } from './routes-record.ts';
import { solve } from './solving.ts';
import { knownSubstance } from './substances.ts';

interface SolutionRoutesOptions {
  logbook: Logbook;
  clock: () => Date;
}

/** What is computed and kept nowhere. */
const computing: FastifyPluginAsyncZod<SolutionRoutesOptions> = async (app, { logbook, clock }) => {
  app.get(
    '/solutions/formula',
    { config: { access: COMPUTING }, schema: { querystring: formulaQuery, response: { 200: formulaReply } } },
    async (request) => {
      const read = await readFormula(request.query.text);
      if ('refused' in read) throw invalid([{ pointer: '#/text', detail: read.refused }]);
      const { gPerMol, standardUncertainty } = molarMass(read.atoms);
      const known = knownSubstance(read.formula);
      return {
        formula: read.formula,
        atoms: read.atoms.map((atom) => ({ ...atom, published: atomicWeight(atom.symbol)?.published ?? '' })),
        molarMassGPerMol: gPerMol,
        standardUncertaintyGPerMol: standardUncertainty,
        known: known && {
          name: known.name,
          primaryStandard: known.primaryStandard,
          densityKgPerM3: known.densityKgPerM3,
          cautions: [...known.cautions],
        },
      };
    },
  );

  app.post(
    '/solutions/evaluate',
    { config: { access: COMPUTING }, schema: { body: solutionBody, response: { 200: solutionResult } } },
    async (request) =>
      logbook.read(async (db) => {
        const gathering = new Gathering(db, { actor: request.actor, now: clock() });
        return (await solve(gathering, request.body)).result;
      }),
  );
};

export const solutionRoutes: FastifyPluginAsyncZod<SolutionRoutesOptions> = async (app, options) => {
  await computing(app, options);
  await choosingRoutes(app, options);
  await recordRoutes(app, options);
  await preparationPaperRoutes(app, options);
};
