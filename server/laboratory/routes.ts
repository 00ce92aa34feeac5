import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { Logbook } from '../db/logbook.ts';
import { refreshAllDue } from '../glassware/store-due.ts';
import { standardAtmosphereHpa } from '../metrology/atmosphere.ts';
import { EVERYONE, KEEPER } from '../people/access.ts';
import { editing, expectedVersion, requireVersion, send } from '../requests.ts';
import { laboratory, laboratoryBody, type Laboratory } from './contract.ts';
import { isDemonstration, readLaboratory, saveLaboratory, type StoredLaboratory } from './store.ts';

type Fault = Laboratory['journalFault'];

const onWire = (stored: StoredLaboratory, demonstration: boolean, journalFault: Fault): Laboratory => ({
  ...stored,
  standardPressureHpa: stored.altitudeM === null ? null : standardAtmosphereHpa(Number(stored.altitudeM)),
  demonstration,
  journalFault,
});

interface LaboratoryRoutesOptions {
  logbook: Logbook;
  journalFault: () => Fault;
}

export const laboratoryRoutes: FastifyPluginAsyncZod<LaboratoryRoutesOptions> = async (app, options) => {
  const { logbook, journalFault } = options;
  app.get('/laboratory', { config: { access: EVERYONE }, schema: { response: { 200: laboratory } } }, async () =>
    logbook.read(async (db) => onWire(await readLaboratory(db), await isDemonstration(db), journalFault())),
  );

  app.patch(
    '/laboratory',
    { config: { access: KEEPER }, schema: { body: laboratoryBody, response: { 200: laboratory } } },
    async (request, reply) => {
      const expected = expectedVersion(request);
      const {
        name,
        address,
        countryCode,
        altitudeM,
        secondPersonChecks,
        defaults,
        hostNames,
        backups,
        intervalMonths,
      } = request.body;
      const answer = await logbook.write(editing(request), async ({ trx, journal }) => {
        const present = await readLaboratory(trx);
        const demonstration = await isDemonstration(trx);
        requireVersion(expected, present.version, onWire(present, demonstration, journalFault()));
        const stored = {
          version: present.version + 1,
          name: name === undefined ? present.name : name || null,
          address: address === undefined ? present.address : address || null,
          countryCode: countryCode === undefined ? present.countryCode : countryCode,
          altitudeM: altitudeM === undefined ? present.altitudeM : altitudeM,
          secondPersonChecks: secondPersonChecks ?? present.secondPersonChecks,
          defaults: { ...present.defaults, ...defaults },
          hostNames: hostNames ?? present.hostNames,
          intervalMonths: intervalMonths === undefined ? present.intervalMonths : intervalMonths,
          backups: backups === undefined ? present.backups : backups,
        };
        await saveLaboratory(trx, stored);
        if (stored.intervalMonths !== present.intervalMonths) await refreshAllDue(trx);
        journal({ act: 'laboratory-changed', object: 'laboratory/1', before: { ...present }, after: { ...stored } });
        return { status: 200, body: onWire(stored, demonstration, journalFault()) };
      });
      app.hostNames.replace(answer.body.hostNames);
      return send(reply, answer);
    },
  );
};
