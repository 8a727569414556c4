create table reading (id identity primary key, station varchar(40) not null, level decimal(6, 2) not null);
