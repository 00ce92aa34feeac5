/** A certificate of a test's own, made where it runs. */
import { execFileSync } from 'node:child_process';
import path from 'node:path';

export const makeCertificate = (folder: string, address: string): { certFile: string; keyFile: string } => {
  const certFile = path.join(folder, 'cert.pem');
  const keyFile = path.join(folder, 'key.pem');
  const words = ['req', '-x509', '-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:prime256v1', '-nodes', '-days', '2'];
  const names = ['-subj', '/CN=tarebook', '-addext', `subjectAltName=IP:${address},DNS:localhost`];
  execFileSync('openssl', [...words, ...names, '-keyout', keyFile, '-out', certFile], { stdio: 'ignore' });
  return { certFile, keyFile };
};
