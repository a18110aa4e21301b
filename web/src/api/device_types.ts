// Paired devices, and a new code for one.
export interface Device {
  id: string;
  name: string;
  paired: string;
  last_seen: string | null;
  revoked: boolean;
}
export interface DevicesAnswer {
  devices: Device[];
}
export interface Pairing {
  code: string;
  url: string;
  expires_at: string;
  qr: string;
  fingerprint: string;
}
