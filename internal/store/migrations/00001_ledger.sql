-- The application id is "oidi" in ASCII; it tells a book from other SQLite files.

-- +goose Up
PRAGMA application_id = 1869177961;

CREATE TABLE garden (
    id   BIGINT NOT NULL PRIMARY KEY,
    name TEXT   NOT NULL UNIQUE
);

-- seq is the order of arrival in this book. Times are in milliseconds since
-- 1970-01-01 UTC. line is the canonical line of the open part, without hourly
-- values; personal the personal part, NULL when there is none; seal its HMAC
-- under salt, which a blanking deletes together with it. open_sum is the SHA-256
-- of the open part; chain is the SHA-256 of the chain before, open_sum and seal.
CREATE TABLE entry (
    garden   BIGINT   NOT NULL REFERENCES garden (id),
    seq      BIGINT   NOT NULL,
    id       TEXT     NOT NULL,
    kind     TEXT     NOT NULL,
    bed      TEXT     NOT NULL,
    time     BIGINT   NOT NULL,
    written  BIGINT   NOT NULL,
    received BIGINT   NOT NULL,
    line     BLOB     NOT NULL,
    open_sum BLOB     NOT NULL,
    blanked  SMALLINT NOT NULL,
    personal BLOB,
    salt     BLOB,
    seal     BLOB     NOT NULL,
    chain    BLOB     NOT NULL,
    PRIMARY KEY (garden, seq),
    UNIQUE (garden, id)
);

-- The entries a blanking names, whether they are there yet or not.
CREATE TABLE blanking (
    garden BIGINT NOT NULL REFERENCES garden (id),
    entry  TEXT   NOT NULL,
    seq    BIGINT NOT NULL,
    PRIMARY KEY (garden, entry, seq)
);

CREATE TABLE photo (
    garden BIGINT NOT NULL,
    seq    BIGINT NOT NULL,
    data   BLOB   NOT NULL,
    PRIMARY KEY (garden, seq),
    FOREIGN KEY (garden, seq) REFERENCES entry (garden, seq)
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

-- +goose Down
SELECT 1; -- there is no way down: entries are never deleted
