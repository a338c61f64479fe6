#!/usr/bin/env bash
# A private certificate authority for the broker, the devices and the service. Needs openssl 3 and nothing else.
set -euo pipefail

usage() {
  cat <<'TEXT'
A private certificate authority for a broker, its devices and the service.

  certificates.sh DIRECTORY authority                     the authority itself: ca.pem, ca.key, an empty list of what is revoked
  certificates.sh DIRECTORY broker HOST [HOST...]         the broker's certificate; every name and address it is reached by
  certificates.sh DIRECTORY device FLEET/VEHICLE          a device's certificate: it may then act for that vehicle alone
  certificates.sh DIRECTORY program NAME                  of a program that the access list names: service, simulator; office reads the alerts of
                                                          all fleets; with the name of a fleet it reads that fleet's alerts alone
  certificates.sh DIRECTORY revoke FLEET/VEHICLE|NAME     from now on it counts no more
  certificates.sh DIRECTORY list                          what was issued, until when, what is revoked

A certificate NAME is NAME.pem with its key NAME.key, FLEET/VEHICLE is devices/FLEET/VEHICLE.pem with its key. Keys are readable by their owner
only, and nothing is written over. Keep ca.key off the machine of the broker: who has it can act as any vehicle.
After 'revoke', and before crl.pem ends, bring crl.pem to the broker and restart it (its signal HUP takes the list too, but leaves who is connected).
A broker with a list that has ended lets nobody in. 'authority' and 'revoke' begin its time anew, and this does that alone:

  certificates.sh DIRECTORY crl

Days: AUTHORITY_DAYS (default 3650), CERTIFICATE_DAYS (default 825), CRL_DAYS (default 3650).

Exit code: 0 done, 2 bad input, and why.
TEXT
}

refuse() { echo "certificates.sh: $*" >&2; exit 2; }

case "${1:-}" in ""|-h|--help) usage; [ $# -gt 0 ] || exit 2; exit 0 ;; esac
[ $# -ge 2 ] || refuse "A directory and what to do are needed. 'certificates.sh --help' shows both."
command -v openssl >/dev/null || refuse "openssl is not installed."

directory=$1 what=$2
shift 2
authority_days=${AUTHORITY_DAYS:-3650} days=${CERTIFICATE_DAYS:-825} crl_days=${CRL_DAYS:-3650}
for number in "$authority_days" "$days" "$crl_days"; do
  [[ $number =~ ^[1-9][0-9]{0,4}$ ]] || refuse "'$number' is no number of days. Right is 1 to 99999."
done
umask 077
id='[A-Za-z0-9._-]{1,64}'

# What openssl asks of a file, and the register of what was issued, stay in the directory of the authority.
settings() {
  cat <<TEXT
[ca]
default_ca = own
[own]
database = $directory/register
serial = $directory/serial
new_certs_dir = $directory/issued
certificate = $directory/ca.pem
private_key = $directory/ca.key
default_md = sha256
default_days = $days
default_crl_days = $crl_days
policy = any
unique_subject = no
[any]
commonName = supplied
[req]
distinguished_name = name
[name]
[authority]
basicConstraints = critical,CA:true,pathlen:0
keyUsage = critical,keyCertSign,cRLSign
subjectKeyIdentifier = hash
[issued]
basicConstraints = critical,CA:false
keyUsage = critical,digitalSignature
extendedKeyUsage = $1
subjectKeyIdentifier = hash
authorityKeyIdentifier = keyid
$2
TEXT
}

# Quiet unless it fails: then what openssl said is shown.
run() {
  local said
  said=$("$@" 2>&1) || { echo "$said" >&2; exit 1; }
}

new_key() { run openssl genpkey -algorithm EC -pkeyopt ec_paramgen_curve:P-256 -out "$1"; }

crl() { settings clientAuth "" >"$directory/openssl.cnf"; run openssl ca -config "$directory/openssl.cnf" -gencrl -out "$directory/crl.pem"; chmod 644 "$directory/crl.pem"; }

authority() {
  [ ! -e "$directory/ca.key" ] || refuse "$directory has an authority already. A new one belongs in another directory, and every certificate has to be made anew."
  mkdir -p "$directory/issued" "$directory/devices"
  : >"$directory/register"
  openssl rand -hex 16 >"$directory/serial"
  settings clientAuth "" >"$directory/openssl.cnf"
  new_key "$directory/ca.key"
  run openssl req -x509 -new -key "$directory/ca.key" -out "$directory/ca.pem" -days "$authority_days" -subj "/CN=AxleTelemetry devices" -config "$directory/openssl.cnf" -extensions authority
  chmod 644 "$directory/ca.pem"
  crl
  echo "Authority: $directory/ca.pem, $authority_days days; list of what is revoked: $directory/crl.pem, $crl_days days. Keep $directory/ca.key to yourself."
}

# issue FILE NAME USE NAMES: a key and a certificate with the name that the broker takes for the user.
issue() {
  local file=$1 name=$2
  [ -f "$directory/ca.key" ] || refuse "$directory has no authority. Make it first: certificates.sh $directory authority"
  [ ! -e "$file.pem" ] && [ ! -e "$file.key" ] || refuse "$file.pem or $file.key is there already and is not written over. Revoke it and take both away first."
  mkdir -p "$(dirname "$file")"
  settings "$3" "$4" >"$directory/openssl.cnf"
  new_key "$file.key"
  # A slash in a name is no separator here.
  run openssl req -new -key "$file.key" -out "$directory/request.pem" -subj "/CN=${name//\//\\/}" -config "$directory/openssl.cnf"
  run openssl ca -batch -notext -config "$directory/openssl.cnf" -extensions issued -in "$directory/request.pem" -out "$file.pem"
  rm -f "$directory/request.pem"
  chmod 644 "$file.pem"
  echo "$name: $file.pem with its key $file.key, $days days."
}

broker() {
  [ $# -ge 1 ] || refuse "broker: at least one host is needed, for example: broker broker.example 192.0.2.7"
  local names="" host
  for host in "$@"; do
    if [[ $host =~ ^[0-9]+\.[0-9]+\.[0-9]+\.[0-9]+$ || $host == *:* ]]; then names+=",IP:$host"
    elif [[ $host =~ ^[A-Za-z0-9]([A-Za-z0-9.-]*[A-Za-z0-9])?$ ]]; then names+=",DNS:$host"
    else refuse "broker: '$host' is no host name and no address."; fi
  done
  issue "$directory/broker" "$1" serverAuth "subjectAltName = ${names#,}"
}

place_of() {
  if [[ $1 =~ ^$id/$id$ ]]; then echo "$directory/devices/$1"
  elif [[ $1 =~ ^$id$ ]]; then echo "$directory/$1"
  else refuse "'$1' is neither FLEET/VEHICLE nor a name: 1-64 of A-Z a-z 0-9 . _ - each."; fi
}

case $what in
  authority) authority ;;
  broker) broker "$@" ;;
  device)
    [ $# -eq 1 ] && [[ $1 =~ ^$id/$id$ ]] || refuse "device: '${*:-}' is no vehicle. Right is FLEET/VEHICLE, for example demo/RT-01: 1-64 of A-Z a-z 0-9 . _ - each."
    issue "$directory/devices/$1" "$1" clientAuth "" ;;
  program)
    [ $# -eq 1 ] && [[ $1 =~ ^$id$ ]] || refuse "program: '${*:-}' is no name. Right is a name that the access list has, for example service, or the name of a fleet."
    issue "$directory/$1" "$1" clientAuth "" ;;
  revoke)
    [ $# -eq 1 ] || refuse "revoke: one name or FLEET/VEHICLE is needed."
    file=$(place_of "$1")
    [ -f "$file.pem" ] || refuse "revoke: there is no $file.pem."
    settings clientAuth "" >"$directory/openssl.cnf"
    run openssl ca -config "$directory/openssl.cnf" -revoke "$file.pem"
    crl
    echo "$1 is revoked. Bring $directory/crl.pem to the broker and restart it." ;;
  crl) [ -f "$directory/ca.key" ] || refuse "$directory has no authority."; crl; echo "$directory/crl.pem: $crl_days days from now." ;;
  list)
    [ -f "$directory/register" ] || refuse "$directory has no authority."
    awk -F '\t' '{ gsub(/\\/, "", $6); sub(/^\/CN=/, "", $6); printf "%-8s until 20%s-%s-%s  %s\n", $1 == "R" ? "revoked" : "valid", substr($2, 1, 2), substr($2, 3, 2), substr($2, 5, 2), $6 }' "$directory/register" ;;
  *) refuse "'$what' is not known. 'certificates.sh --help' lists what is." ;;
esac
