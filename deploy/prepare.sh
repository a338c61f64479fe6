#!/usr/bin/env bash
# Makes a site: the directory with everything of one installation that docker-compose.yml mounts.
set -euo pipefail

usage() {
  cat <<'TEXT'
Make a site: the directory that docker-compose.yml takes certificates, secrets and settings from, and keeps its data in.

  deploy/prepare.sh DIRECTORY [--host NAME]... [--simulated VEHICLES]

--host NAME            a name or address by which vehicles reach the broker; stands in its certificate. As often as there are.
--simulated VEHICLES   settings for an invented fleet of so many powered vehicles (seed 1), with a certificate for its simulator. Needs the
                       service's image. Without it there is one example vehicle, to be replaced by yours.

It holds certificates/ (the authority's key too: take it away once every device has its certificate), secrets/, settings/ with
axletelemetry.json and vehicle files, data/, and compose.env, which names all of it to compose:

  docker-compose --env-file DIRECTORY/compose.env up -d

SERVICE_IMAGE     the service's image (default axletelemetry:local)
SITE_OWNER        USER:GROUP in numbers that the containers run as; default: yours, and 10001:10001 where you are root

Exit code: 0 made, 2 bad input, and why. A directory that is there is never changed.
TEXT
}

refuse() { echo "prepare.sh: $*" >&2; exit 2; }

here=$(cd "$(dirname "$0")" && pwd)
site="" simulated="" hosts=()
while [ $# -gt 0 ]; do
  case $1 in
    -h|--help) usage; exit 0 ;;
    --host) [ $# -ge 2 ] || refuse "--host: a name or an address is needed."; hosts+=("$2"); shift 2 ;;
    --simulated) [ $# -ge 2 ] && [[ $2 =~ ^[1-9][0-9]{0,3}$ ]] || refuse "--simulated: a number of vehicles from 1 is needed."; simulated=$2; shift 2 ;;
    -*) refuse "'$1' is not known. 'prepare.sh --help' lists what is." ;;
    *) [ -z "$site" ] || refuse "One directory is needed, not also '$1'."; site=$1; shift ;;
  esac
done
[ -n "$site" ] || refuse "A directory is needed. 'prepare.sh --help' says more."
[ ! -e "$site" ] || refuse "'$site' is there already, and nothing is written over."

if [ "$(id -u)" = 0 ]; then owner=${SITE_OWNER:-10001:10001}; else owner=${SITE_OWNER:-$(id -u):$(id -g)}; fi
[[ $owner =~ ^[1-9][0-9]*:[0-9]+$ ]] || refuse "SITE_OWNER '$owner' is not right. Right is a user's and a group's number, not root's, for example 10001:10001."
image=${SERVICE_IMAGE:-axletelemetry:local}

umask 077
mkdir -p "$site"
site=$(cd "$site" && pwd)
mkdir -p "$site/settings" "$site/secrets/service" "$site/data/broker" "$site/data/service" "$site/data/influxdb" "$site/data/influxdb-config" "$site/data/grafana"

"$here/certificates.sh" "$site/certificates" authority
"$here/certificates.sh" "$site/certificates" broker broker localhost 127.0.0.1 ${hosts[@]+"${hosts[@]}"}
"$here/certificates.sh" "$site/certificates" program service
for secret in service/api-token service/series-token influxdb-password grafana-password grafana-reader; do openssl rand -hex 32 >"$site/secrets/$secret"; done

settings=$site/settings/axletelemetry.json
cat >"$settings" <<'TEXT'
{
  // Settings of the service in its container; the paths are those that docker-compose.yml mounts.
  "data_directory": "/data",
  "broker": {
    "host": "broker", "port": 8884, "tls": true,
    "ca_file": "/certificates/ca.pem", "certificate_file": "/certificates/service.pem", "key_file": "/certificates/service.key",
  },

  // Compose publishes it on 127.0.0.1 alone. For people elsewhere put what speaks TLS in front, and its https address here as "public_address".
  "http": { "listen": "0.0.0.0:8080", "api_token_file": "/secrets/api-token" },
  "series": { "url": "http://influxdb:8086", "organisation": "axletelemetry", "bucket": "axletelemetry", "token_file": "/secrets/series-token" },
TEXT
chown -R "$owner" "$site"
if [ -n "$simulated" ]; then
  "$here/certificates.sh" "$site/certificates" program simulator
  made=$site/settings/simulated
  mkdir "$made"
  chown -R "$owner" "$site"
  docker run --rm --user "$owner" --read-only --tmpfs /tmp --network none -v "$made:/made" "$image" simulate --out /made --vehicles "$simulated" --rate 0.1 >/dev/null
  rm "$made/recording.ndjson" "$made/truth.ndjson"
  # What it wrote of fleets is the end of its settings; vehicles and tickets lie beside them.
  sed -n '/^  "fleets": {/,$p' "$made/axletelemetry.json" >>"$settings"
  rm "$made/axletelemetry.json"
  mv "$made"/* "$site/settings/"
  rmdir "$made"
else
  mkdir "$site/settings/demo"
  cp "$here/examples/rigid-6x2-tag.json" "$site/settings/demo/"
  cat >>"$settings" <<'TEXT'
  "fleets": {
    // The name is the fleet's id in topics and in certificates: axles/v1/demo/RT-01/frame, device demo/RT-01.
    "demo": { "vehicles": "demo" },
  },
}
TEXT
fi

cat >"$site/compose.env" <<TEXT
SITE=$site
SITE_OWNER=$owner
SERVICE_IMAGE=$image${simulated:+
VEHICLES=$simulated}
TEXT
chown -R "$owner" "$site"
echo "$site is made for user $owner. Start it: docker-compose --env-file $site/compose.env up -d"
