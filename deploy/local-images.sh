#!/usr/bin/env bash
# Images for a machine that can pull none: a base, a broker and a server that takes the writing of InfluxDB 2, all of Debian's packages.
# Needs root, debootstrap and a Docker engine.
set -euo pipefail

case "${1:-}" in
  "") ;;
  -h|--help) cat <<'TEXT'
Make the images that stand in where none can be pulled, of Debian's packages.

  deploy/local-images.sh

  axletelemetry-local/base      for BASE_IMAGE of build-image.sh
  axletelemetry-local/broker    mosquitto, for BROKER_IMAGE
  axletelemetry-local/series    victoria-metrics for INFLUXDB_IMAGE: takes what InfluxDB 2 takes, asks for no token, answers no InfluxQL

One that is there already is left as it is. There is none for Grafana: Debian has no package of it.
Exit code: 0 made, another: what failed has said why.
TEXT
    exit 0 ;;
  *) echo "local-images.sh: '$1' is not known. It takes no arguments." >&2; exit 2 ;;
esac

prefix=axletelemetry-local
export DOCKER_BUILDKIT=0
has() { docker image inspect "$1" >/dev/null 2>&1; }

make() {
  local name=$1
  has "$prefix/$name" && return
  local said
  said=$(docker build -t "$prefix/$name" - 2>&1) || { echo "$said" >&2; exit 1; }
  echo "$prefix/$name"
}

if ! has "$prefix/base"; then
  root=$(mktemp -d)
  trap 'rm -rf "$root"' EXIT
  debootstrap --variant=minbase --include=ca-certificates,libssl3,libstdc++6,tzdata bookworm "$root/base" >"$root/log" 2>&1 || { tail -20 "$root/log" >&2; exit 1; }
  tar -C "$root/base" --exclude=./var/cache/apt/archives/*.deb -c . | docker import - "$prefix/base" >/dev/null
  rm -rf "$root"
  echo "$prefix/base"
fi

make broker <<TEXT
FROM $prefix/base
RUN apt-get update -q && apt-get install -y -q --no-install-recommends mosquitto && rm -rf /var/lib/apt/lists/*
CMD ["mosquitto", "-c", "/mosquitto/config/mosquitto.conf"]
TEXT

make series <<TEXT
FROM $prefix/base
RUN apt-get update -q && apt-get install -y -q --no-install-recommends victoria-metrics && rm -rf /var/lib/apt/lists/* && mkdir -p /var/lib/influxdb2
ENTRYPOINT ["victoria-metrics", "-storageDataPath=/var/lib/influxdb2", "-httpListenAddr=:8086", "-retentionPeriod=100y", "-loggerLevel=WARN"]
TEXT
