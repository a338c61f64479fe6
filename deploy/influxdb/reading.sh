#!/bin/bash
# Run once by the image of InfluxDB 2 after its set-up: InfluxQL finds the bucket under its own name, and Grafana has a user that may only read it.
set -euo pipefail
influx v1 dbrp create --org "$DOCKER_INFLUXDB_INIT_ORG" --bucket-id "$DOCKER_INFLUXDB_INIT_BUCKET_ID" --db "$DOCKER_INFLUXDB_INIT_BUCKET" --rp autogen --default
influx v1 auth create --org "$DOCKER_INFLUXDB_INIT_ORG" --username grafana --password "$(cat /secrets/grafana-reader)" --read-bucket "$DOCKER_INFLUXDB_INIT_BUCKET_ID"
