-- A journal as version 1 made it, with a row in every table. Never edited: a newer program must read it.
PRAGMA auto_vacuum = INCREMENTAL;
PRAGMA application_id = 1098404970;
PRAGMA journal_mode = WAL;
CREATE TABLE owner(one INTEGER PRIMARY KEY CHECK(one = 1), shard TEXT NOT NULL, epoch INTEGER NOT NULL, batch INTEGER NOT NULL) STRICT;
CREATE TABLE vehicle(id INTEGER PRIMARY KEY, fleet TEXT NOT NULL, name TEXT NOT NULL, UNIQUE(fleet, name)) STRICT;
CREATE TABLE input(
    position INTEGER PRIMARY KEY, vehicle INTEGER NOT NULL, kind INTEGER NOT NULL, stream INTEGER NOT NULL,
    received INTEGER NOT NULL, least INTEGER NOT NULL, greatest INTEGER NOT NULL, bytes BLOB NOT NULL) STRICT;
CREATE INDEX input_time ON input(vehicle, least, greatest);
CREATE TABLE block(
    id INTEGER PRIMARY KEY, vehicle INTEGER NOT NULL, hour INTEGER NOT NULL, first INTEGER NOT NULL, last INTEGER NOT NULL,
    least INTEGER NOT NULL, greatest INTEGER NOT NULL, count INTEGER NOT NULL, size INTEGER NOT NULL,
    sha256 BLOB NOT NULL, bytes BLOB NOT NULL) STRICT;
CREATE INDEX block_time ON block(vehicle, hour);
CREATE INDEX block_position ON block(first, last);
CREATE INDEX block_age ON block(greatest);
CREATE TABLE history(
    vehicle INTEGER NOT NULL, kind INTEGER NOT NULL, t INTEGER NOT NULL, key TEXT NOT NULL,
    position INTEGER NOT NULL, aside BLOB, bytes BLOB, PRIMARY KEY(vehicle, kind, t, key)) STRICT, WITHOUT ROWID;
CREATE INDEX history_position ON history(position);
CREATE INDEX history_void ON history(position) WHERE bytes IS NULL;
CREATE TABLE telling(
    position INTEGER PRIMARY KEY, vehicle INTEGER NOT NULL, kind INTEGER NOT NULL, key TEXT NOT NULL,
    at INTEGER NOT NULL, bytes BLOB NOT NULL) STRICT;
CREATE TABLE refusal(
    position INTEGER PRIMARY KEY, vehicle INTEGER NOT NULL, reason INTEGER NOT NULL, received INTEGER NOT NULL, bytes BLOB NOT NULL) STRICT;
CREATE INDEX refusal_vehicle ON refusal(vehicle);
CREATE TABLE refusal_tally(vehicle INTEGER PRIMARY KEY, kept INTEGER NOT NULL, size INTEGER NOT NULL, dropped INTEGER NOT NULL) STRICT;
CREATE TABLE checkpoint(vehicle INTEGER PRIMARY KEY, batch INTEGER NOT NULL, version INTEGER NOT NULL, bytes BLOB NOT NULL) STRICT;
CREATE TABLE correction(vehicle INTEGER PRIMARY KEY, since INTEGER NOT NULL) STRICT;
CREATE TABLE cursor(
    name TEXT PRIMARY KEY, position INTEGER NOT NULL, missed INTEGER NOT NULL, missed_in_all INTEGER NOT NULL) STRICT, WITHOUT ROWID;
INSERT INTO owner VALUES(1, 'main', 4, 2);
INSERT INTO vehicle VALUES(1, 'north', 'T-01');
INSERT INTO input VALUES(1048576, 1, 1, 3, 1772432001000, 1772432000000, 1772432000500, x'6F6E65');
INSERT INTO history VALUES(1, 1, 1772432000000, 'k', 1048577, x'', x'6C6F6164');
INSERT INTO telling VALUES(2097152, 1, 1, 'k', 1772432001000, x'746F6C64');
INSERT INTO refusal VALUES(2097153, 1, 5, 1772432001000, x'626164');
INSERT INTO refusal_tally VALUES(1, 1, 67, 2);
INSERT INTO checkpoint VALUES(1, 2, 9, x'7374617465');
INSERT INTO correction VALUES(1, 1772432000000);
INSERT INTO cursor VALUES('outside', 1048576, 0, 7);
PRAGMA user_version = 1;
