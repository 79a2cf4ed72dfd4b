-- The application id is "oidi" in ASCII; it tells a book from other SQLite files.

-- +goose Up
PRAGMA application_id = 1869177961;

CREATE TABLE garden (
    id   BIGINT NOT NULL PRIMARY KEY,
    name TEXT   NOT NULL UNIQUE
);

-- seq is the order of arrival in this book. Times are in milliseconds since
-- 1970-01-01 UTC. line is the canonical line, without hourly values; sum is the
-- SHA-256 of the whole entry.
CREATE TABLE entry (
    garden   BIGINT NOT NULL REFERENCES garden (id),
    seq      BIGINT NOT NULL,
    id       TEXT   NOT NULL,
    kind     TEXT   NOT NULL,
    bed      TEXT   NOT NULL,
    time     BIGINT NOT NULL,
    written  BIGINT NOT NULL,
    received BIGINT NOT NULL,
    sum      BLOB   NOT NULL,
    line     BLOB   NOT NULL,
    PRIMARY KEY (garden, seq),
    UNIQUE (garden, id)
);

-- day counts days since 1970-01-01 UTC; data holds the packed hours of that day.
CREATE TABLE weather_day (
    garden BIGINT NOT NULL,
    seq    BIGINT NOT NULL,
    day    BIGINT NOT NULL,
    data   BLOB   NOT NULL,
    PRIMARY KEY (garden, seq, day),
    FOREIGN KEY (garden, seq) REFERENCES entry (garden, seq)
);
