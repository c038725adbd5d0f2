#!/bin/sh
# For compose.yaml: the owner of the club's tables, who is no superuser, so that homes are kept apart from it too.
set -eu
psql -v ON_ERROR_STOP=1 -v password="$CLUB_PASSWORD" -U postgres <<'SQL'
CREATE ROLE club LOGIN CREATEROLE PASSWORD :'password';
CREATE DATABASE club OWNER club;
SQL
